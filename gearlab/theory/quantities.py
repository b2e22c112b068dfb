"""Every quantity of the subject, once: its word, its symbols, its dimension and its range.

A quantity's *word* (``centre_distance``) is its name everywhere: in code, in question
banks and in files. *Symbols* are for reading, in one of two notations: ``"inch"`` (P, N,
d, C, a for addendum) and ``"iso"`` (z, m, d, a for centre distance, after ISO 21771).

Quantities that belong to one gear are written once (``pitch_diameter``, d). In a pair they
exist twice, as ``driver_pitch_diameter`` (d1) and ``driven_pitch_diameter`` (d2).
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass, replace
from math import inf, pi

NOTATIONS = ("inch", "iso")


@dataclass(frozen=True)
class Quantity:
    """One quantity of the subject.

    Parameters
    ----------
    word : str
        Name in code, banks and files [-].
    meaning : str
        What it is, as a noun phrase [-].
    dimension : str
        One of the dimensions of ``gearlab.theory.units`` [-].
    inch, iso : str
        Plain symbols in the two notations [-].
    low, high : float
        Range [theory units, rad]; outside it a value is refused and a root is dropped.
    owner : str
        "gear" (one for each gear), "tooth" (shared by two equal-toothed gears) or "pair" [-].
    whole : bool
        True for counts, which are whole numbers [-].

    Examples
    --------
    >>> quantity("centre_distance").symbol("inch")
    'C'
    >>> quantity("driven_pitch_diameter").latex("iso")
    'd_{2}'
    """

    word: str
    meaning: str
    dimension: str
    inch: str
    iso: str
    low: float = 0.0
    high: float = inf
    owner: str = "gear"
    whole: bool = False
    index: str = ""

    def symbol(self, notation: str = "inch") -> str:
        """Plain symbol in a notation ("inch" or "iso"), such as ``d_o1`` [-]."""
        return (self.inch if check_notation(notation) == "inch" else self.iso) + self.index

    def latex(self, notation: str = "inch") -> str:
        """The symbol in LaTeX, such as ``d_{o1}`` [-]."""
        base = self.inch if check_notation(notation) == "inch" else self.iso
        head, _, tail = base.partition("_")
        return _in_latex(head) + (f"_{{{_in_latex(tail)}{self.index}}}" if tail + self.index else "")

    @property
    def signed(self) -> bool:
        """True where a negative value has a meaning (speeds, angles turned, differences) [-]."""
        return self.low < 0


_GREEK = {"phi": r"\phi", "alpha": r"\alpha", "theta": r"\theta", "omega": r"\omega",
          "epsilon": r"\varepsilon", "zeta": r"\zeta", "rho": r"\rho", "tau": r"\tau", "Delta": r"\Delta", "eta": r"\eta"}


def _in_latex(text: str) -> str:
    for name, code in _GREEK.items():
        if text.startswith(name):
            rest = text[len(name):]
            return code + (" " + rest if rest else "")
    return text


def check_notation(notation: str) -> str:
    """Hand the notation back [-], or raise ValueError naming the two there are."""
    if notation not in NOTATIONS:
        raise ValueError(f"notation {notation!r} is unknown: use 'inch' (P, N, d, C) or 'iso' (m, z, d, a)")
    return notation


def _table(owner: str, rows: str) -> list[Quantity]:
    found = []
    for row in rows.strip().splitlines():
        cells = [cell.strip() for cell in row.split("|")]
        word, meaning, dimension, inch, iso = cells[:5]
        low, high = _RANGE.get(dimension, (0.0, inf))
        if len(cells) > 5 and cells[5]:
            low, high = (float(part) for part in cells[5].split(".."))
        found.append(Quantity(word, meaning, dimension, inch, iso or inch, low, high, owner, dimension == "count"))
    return found


_RANGE = {"count": (1.0, inf), "angle": (0.0, pi / 2), "speed": (-inf, inf), "turns": (-inf, inf),
          "angular speed": (-inf, inf), "linear speed": (-inf, inf)}

# word | meaning | dimension | inch symbol | ISO symbol (if it differs) | range (if unusual)
GEAR = _table("gear", """
teeth                 | number of teeth                    | count  | N     | z     | 4..2000
pitch_diameter        | pitch diameter                     | length | d     |
base_diameter         | base diameter                      | length | d_b   |
outside_diameter      | outside diameter                   | length | d_o   | d_a
root_diameter         | root diameter                      | length | d_r   | d_f
pitch_radius          | pitch radius                       | length | r     |
base_radius           | base radius                        | length | r_b   |
outside_radius        | outside radius                     | length | r_o   | r_a
root_radius           | root radius                        | length | r_r   | r_f
pitch_circumference   | distance around the pitch circle   | length | U     |
chordal_thickness     | chordal tooth thickness            | length | t_c   | s_c
chordal_addendum      | chordal addendum                   | length | a_c   | h_c
profile_shift         | profile shift                      | number | x     |       | -2..3
tooth_thinning        | tooth thinning                     | length | delta_t | delta_s
tip_shortening        | tip shortening                     | length | k_t   |       | -1e9..1e9
speed                 | speed                              | speed  | n     |
turns                 | turns                              | turns  | k     |
angle                 | angle turned                       | angle  | theta |       | -inf..inf
angular_speed         | angular speed                      | angular speed | omega |
span_teeth            | teeth in the span                  | count  | k_W   |
ideal_span_teeth      | teeth in the span at which the jaws touch near mid-flank | number | k_i |
span                  | span measurement                   | length | W     |
pin_diameter          | measuring pin diameter             | length | d_p   | D_M
pin_angle             | pressure angle at the pin centre   | angle  | phi_p | alpha_K
over_pins             | size over pins                     | length | M     | M_d
pin_parity            | factor for an odd count            | number | f_o   |
least_teeth           | fewest teeth without undercut      | number | N_u   | z_u
least_shift           | least profile shift without undercut | number | x_u |       | -inf..inf
space_half_angle      | half the angle of a tooth space on the base circle | angle | eta | | -1..1
ideal_pin             | pin diameter that touches the flanks at mid-height | length | d_i | D_i
""")

TOOTH = _table("tooth", """
diametral_pitch   | diametral pitch                         | pitch  | P     |
module            | module                                  | length | m     |
circular_pitch    | circular pitch                          | length | p     |
base_pitch        | base pitch                              | length | p_b   |
pressure_angle    | pressure angle                          | angle  | phi   | alpha | 0.07..0.87
addendum          | addendum                                | length | a     | h_a
dedendum          | dedendum                                | length | b     | h_f
whole_depth       | whole depth                             | length | h_t   | h
working_depth     | working depth                           | length | h_k   | h_w
clearance         | clearance                               | length | c     |
tooth_thickness   | tooth thickness on the pitch circle     | length | t     | s
tooth_space       | width of a tooth space on the pitch circle | length | e  |
addendum_factor   | addendum factor of the tooth system     | number | k_a   | h_a*
dedendum_factor   | dedendum factor of the tooth system     | number | k_b   | h_f*
extra_dedendum    | extra dedendum of the tooth system      | length | b_x   | h_x
rack_tip_radius   | tip radius factor of the basic rack     | number | rho   |
pitches_counted   | pitches counted                         | count  | k_p   |
counted_length    | length over the pitches counted         | length | L     |
mate_diametral_pitch | diametral pitch of the other gear    | pitch  | P_x   |
mate_module       | module of the other gear                | length | m_x   |
mate_circular_pitch | circular pitch of the other gear      | length | p_x   |
pitch_mismatch    | difference of the two circular pitches  | length | Delta p |
pitches_out_of_step | pitches until half a tooth thickness out of step | number | k_x |
""")

PAIR = _table("pair", """
centre_distance           | centre distance                      | length | C     | a
reference_centre_distance | reference centre distance            | length | C_0   | a_0
ratio                     | ratio, driver turns per driven turn  | number | i     |
tooth_difference          | difference of the tooth counts       | count  | Delta N | Delta z | -inf..inf
common_factor             | greatest common factor of the tooth counts | count | g |
driver_turns_to_repeat    | driver turns until the same two teeth meet again | turns | k_r1 |
driven_turns_to_repeat    | driven turns until the same two teeth meet again | turns | k_r2 |
driver_teeth_lowest       | driver part of the tooth ratio in lowest whole numbers | count | A |
driven_teeth_lowest       | driven part of the tooth ratio in lowest whole numbers | count | B |
spaces_met                | different spaces that one tooth meets | count | q     |
share_of_spaces           | share of the spaces that one tooth meets | number | q_s |
operating_pressure_angle  | operating pressure angle             | angle  | phi_w | alpha_w | 0.02..1.3
driver_operating_pitch_diameter | operating pitch diameter of the driver | length | d_w1 |
driven_operating_pitch_diameter | operating pitch diameter of the driven gear | length | d_w2 |
operating_circular_pitch  | operating circular pitch             | length | p_w   |
driver_operating_thickness | tooth thickness of the driver on its operating pitch circle | length | t_w1 | s_w1
driven_operating_thickness | tooth thickness of the driven gear on its operating pitch circle | length | t_w2 | s_w2
backlash                  | backlash                             | length | j     |       | -inf..inf
length_of_approach        | length of approach                   | length | Z_f   | g_f   | -inf..inf
length_of_recess          | length of recess                     | length | Z_a   | g_a   | -inf..inf
length_of_action          | length of action                     | length | Z     | g_alpha
contact_ratio             | contact ratio                        | number | m_c   | epsilon
arc_of_contact            | arc of contact on the pitch circles  | length | Z_p   | g_p
driver_contact_angle      | angle the driver turns while two teeth touch | angle | theta_c1 | | 0..3.1
driven_contact_angle      | angle the driven gear turns while two teeth touch | angle | theta_c2 | | 0..3.1
sliding_speed_at_start    | sliding speed where contact begins   | linear speed | v_f |
sliding_speed_at_end      | sliding speed where contact ends     | linear speed | v_a |
driver_specific_sliding   | specific sliding of the driver where contact begins | number | zeta_1 | | -inf..inf
driven_specific_sliding   | specific sliding of the driven gear where contact ends | number | zeta_2 | | -inf..inf
driver_interference_margin | room before the driven tip reaches the driver's tangent point | length | M_1 | | -inf..inf
driven_interference_margin | room before the driver tip reaches the driven gear's tangent point | length | M_2 | | -inf..inf
least_teeth_with_rack     | fewest teeth that run with a rack without interference | number | N_R | z_R
least_teeth_with_equal    | fewest teeth that run with an equal gear without interference | number | N_E | z_E
least_teeth_for_ratio     | fewest pinion teeth for the ratio without interference | number | N_L | z_L
largest_mate_teeth        | most teeth of the mate without interference | number | N_G | z_G | -inf..inf
hole_pin_1                | diameter of the pin in hole 1        | length | b_1   |
hole_pin_2                | diameter of the pin in hole 2        | length | b_2   |
hole_spacing              | hole spacing                         | length | C_h   | a_h
reading_over_pins         | caliper reading over the two pins    | length | L_o   |
reading_between_pins      | caliper reading between the two pins | length | L_i   |
spacing_miss              | miss of the hole spacing (measured minus wanted) | length | Delta C | Delta a | -inf..inf
duration                  | time                                 | time   | tau   |
pitch_line_speed          | pitch-line speed                     | linear speed | v |
mesh_frequency            | tooth-mesh frequency                 | frequency | f_m |
""")


def _indexed(base: Quantity, number: int) -> Quantity:
    side = ("driver", "driven")[number - 1]
    of = "the driver" if number == 1 else "the driven gear"
    link = "by" if base.word == "angle" else "of"
    return replace(base, word=f"{side}_{base.word}", meaning=f"{base.meaning} {link} {of}", index=str(number))


QUANTITIES: dict[str, Quantity] = {q.word: q for q in GEAR + TOOTH + PAIR}
for _base in GEAR + TOOTH:
    for _number in (1, 2):
        _one = _indexed(_base, _number)
        QUANTITIES[_one.word] = _one


_PLACES = {base.word: number for number, base in enumerate(GEAR + TOOTH + PAIR)}


def place(word: str) -> tuple[int, str]:
    """Sorting key [-]: the order in which quantities are taught, the driver before the driven gear.

    >>> sorted(["addendum", "driven_pitch_diameter", "driver_pitch_diameter"], key=place)
    ['driver_pitch_diameter', 'driven_pitch_diameter', 'addendum']
    """
    entry = QUANTITIES[word]
    base = word if word in _PLACES else word.removeprefix("driver_").removeprefix("driven_")
    return _PLACES[base], entry.index


def side_order(word: str) -> str:
    """Sorting key [-]: the driver comes before the driven gear in every list a reader sees.

    >>> sorted(["driven_teeth", "driver_teeth"], key=side_order)
    ['driver_teeth', 'driven_teeth']
    """
    return word.replace("driver_", "a_").replace("driven_", "b_")


def quantity(name: str, notation: str = "inch") -> Quantity:
    """Find a quantity by its word or, as a convenience, by its symbol in a notation.

    Parameters
    ----------
    name : str
        A word (``centre_distance``) or a symbol (``C``) [-].
    notation : str
        "inch" or "iso" [-].

    Returns
    -------
    Quantity
        The one entry of that name.

    Raises
    ------
    ValueError
        For an unknown name; near names are given.

    Examples
    --------
    >>> quantity("C").word, quantity("a", notation="iso").word
    ('centre_distance', 'centre_distance')
    """
    if name in QUANTITIES:
        return QUANTITIES[name]
    check_notation(notation)
    for entry in QUANTITIES.values():
        if entry.symbol(notation) == name:
            return entry
    near = difflib.get_close_matches(name, list(QUANTITIES), n=3, cutoff=0.6)
    hint = f"; near words: {', '.join(near)}" if near else f" (symbols are read in the {notation} notation)"
    raise ValueError(f"quantity {name!r} is unknown{hint}")
