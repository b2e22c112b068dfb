"""What students type, judged: writings of a right answer, and wrong ones that look like it.

The right numbers are worked out by hand beside each question (a pitch diameter is N/P, a centre distance
m(z1 + z2)/2, a ratio N2/N1, a pitch angle 360/N: ISO 21771). How numbers, units, fractions and arcs are
written is common practice of workshop and classroom.
"""

import pytest

from gearlab.contents import content_folder
from gearlab.practice import load_bank

# Bank, question, givens set by hand, answer asked.
DIAMETER = "03", "diameters-then-spacing", "driver_teeth=30 diametral_pitch=16", "driver_pitch_diameter"
DISTANCE = "03", "spacing-metric", "driver_teeth=18 driven_teeth=45 module=2.5", "centre_distance"
RATIO = "04", "speed-ratio", "driver_teeth=18 driven_teeth=45", "ratio"
TRAIN = (
    "05",
    "two-stage-ratio",
    "first_teeth=20 second_teeth=50 third_teeth=25 fourth_teeth=75",
    "train_ratio",
)
REDUCTION = "15", "reduction-ring-held", "sun_teeth=20 planet_teeth=20", "reduction"
SPEED = "04", "signed-speed", "driver_teeth=18 driven_teeth=45 driver_speed=15", "driven_speed"
OMEGA = "04", "angular-speed", "driver_speed=60", "driver_angular_speed"
ANGLE = "09", "one-pitch-as-an-angle", "teeth=32", "pitch_angle"
PITCH = "02", "circular-pitch-metric", "module=2.5", "circular_pitch"
TEETH = "01", "teeth-from-blank", "teeth=25 diametral_pitch=10", "teeth"
STRESS = (
    "12",
    "bending-metric",
    "tangential_force=247.2 module=2 face_width=10 form_factor=0.309 driver_teeth=18",
    "bending_stress",
)
RACK = "13", "rack-speed", "teeth=20 module=2.5 speed=24", "rack_speed"
CONTACT = "07", "share-of-two-pairs", "contact_ratio=1.25", "two_pair_share"


def rows(text):
    """Texts, parted by bars."""
    return [row.strip() for row in text.replace("\n", "|").split("|") if row.strip()]


# fmt: off
RIGHT = {
    # 30/16 = 1.875 in = 47.625 mm
    DIAMETER: rows("""
        1-7/8 | 1-7/8" | 1 7/8 | 1 7/8 in. | 1-7/8-in | 1-⅞ | 1⅞ | 1⅞″ | 1⁷⁄₈ | 1 + 7/8 | 1+7/8 in
        2 - 1/8 | 15/8 | (15/8) in | (1.875) | [1.875] | ((1.875)) | (1.875) in | 1.875 (in)
        1.875 [in] | (1.875 in) diameter | 1.875 in diameter | 1.875 in dia. | 1.875 inches in diameter
        1.875 in pitch diameter | diameter 1.875 in | pitch diameter: 1.875 in
        the pitch diameter is 1.875 in | Ø1.875 | ⌀ 1.875 in | ans 1.875 | Ans: 1.875 in | answer = 1.875
        d1: 1.875 | d1 = N1/P = 30/16 = 1.875 in | 30/16 = 1.875 | 30/16=1.875 in | 30 ÷ 16 = 1.875
        1.875 = 30/16 | 30/16 = 15/8 = 1 7/8 | = 30/16 | (30)/(16) | 30*1/16 | 30 x 0.0625 | 3.75/2
        1.5*1.25 | ≈ 1.875 | ~1.875 in | ca. 1.875 | about 1.875 in | approx. 1.875
        approximately 1.875 inches | roughly 1.875 | circa 1.875 | 1.875 in approx. | 1.875 in or so
        47.625 mm | 4.7625 cm | 1.875 in = 47.625 mm | 47.625 mm = 1.875 in | 1.875 '' | 1,875 in
        1.8750 | d (in) = 1.875 | 1.875 in exactly | sqrt(3.515625) | 1.875e0 | 18.75*10^-1 | 0.15625 ft
        (1 + 0.875) in | 2*(1 7/8)/2 | 30/2^4 | 30/4² | 1.875 inch (rounded) | so d = 1.875 in
        1.8749 ≈ 1.875 | 1 and 7/8 in | 1 & 7/8 | => 1.875 | 30/16 → 1.875 in | -> 1 7/8 | 30 in/16 = 1.875 in
    """),
    # 2.5 (18 + 45)/2 = 78.75 mm
    DISTANCE: rows("""
        78.75 mm apart | 78.75 apart | 78.75 mm centre distance | 78.75 mm center distance
        distance 78.75 mm | 78.75 mm between the shafts | 78.75 mm in total | 2.5*(18+45)/2
        2.5·(18 + 45)/2 mm | 2.5×(18+45)÷2 | 2.5 x 63 / 2 | 2,5*(18+45)/2 | 2.5(18+45)/2 = 78.75 mm
        C = m(z1+z2)/2 = 2.5*63/2 = 78.75 mm | m*(z1+z2)/2 = 2.5*63/2 = 78.75
        2.5 mm*(18+45)/2 = 78.75 mm | (45 + 112.5)/2 | (45+112.5)/2 = 78.75 | 22.5 + 56.25
        22.5+56.25 = 78.75 mm | 78-3/4 | 78-3/4 mm | 78 3/4 | 100 - 21.25 | 7.875 cm
        78.75 mm = 7.875 cm | 78.75 in mm | 1/2*2.5*63 | 0.5*2.5*63 | 7.875*10^1 mm | 7,875·10¹
        315/4 = 78.75 | (78.75 mm) | 78.75mm. | ans. 78.75 mm | my answer is 78.75 mm | C: 78.75 mm
        ７８．７５ | so 78.75 mm | it is 78.75 mm | 78750 µm | 0.07875 m | 2.5*31.5 mm
    """),
    # 45/18 = 2.5
    RATIO: rows("""
        2.5:1 | 5:2 | 45:18 | 2.5 to 1 | 5 to 2 | 45 : 18 | 2.5 : 1 | 2.5-to-1 | 2.5 to one | 2,5:1
        2 1/2 : 1 | 1:0.4 | i = 2.5:1 | ratio 2.5:1 | n1/n2 = 5:2 | 45/18 = 2.5:1 | 45:18 = 2.5
        45:18 = 5:2 | (2.5:1) | 2.5:1. | 2.5 : 1 (driver : driven) | ≈ 2.5:1 | about 2.5 to 1 | 2½
        2-1/2 | 5/2 | 45÷18 | 45 T : 18 T | 2.5∶1 | １：０．４ | 2.5 times | a ratio of 2.5 | 2.5 turns
        45/18 = 2.5 | 1/(18/45) | 2.5 ratio | ans 2.5:1 | 2.5:1 reduction | 2.5 driver turns per driven turn
        2.5:1 (driver turns : driven turns) | 45 teeth to 18 teeth | the ratio is 5:2
    """),
    # (50/20)(75/25) = 7.5
    TRAIN: rows("""
        7.5:1 | 15:2 | 3000:400 | 2.5*3 | 2.5·3 = 7.5 | 50/20*75/25 = 7.5 | (50/20)(75/25) | 7-1/2
        7.5 to 1 | (50*75)/(20*25)
    """),
    # the ring has 20 + 2*20 = 60 teeth; 1 + 60/20 = 4
    REDUCTION: rows("""
        4:1 | 1 + 60/20 | 4 to 1 | 1+60/20 = 4
    """),
    # -15*18/45 = -6 rpm; 6 rpm = 6*2 pi/60 rad/s = 0.2 pi rad/s = 36 deg/s = 0.1 rev/s
    SPEED: rows("""
        6 cw rpm | 6 rpm cw | cw 6 rpm | 6 rpm (clockwise) | 6 rpm, clockwise | clockwise 6 rpm | -6
        -15*18/45 | -15*18/45 = -6 rpm | -0.62832 rad/s | 0.62832 rad/s cw | -0.2π rad/s
        0.2 pi rad/s clockwise | -36 deg/s | 36 °/s cw | -0.1 rev/s | 0.1 1/s cw | -37.699 rad/min
        n2 = -6 rpm | speed -6 rpm | -6 rev per minute | ≈ -6 rpm | (-6 rpm) | -(6)
    """),
    # 2 pi 60/60 = 2 pi = 6.2832 rad/s = 360 deg/s
    OMEGA: rows("""
        2 pi | 2π | 2π rad/s | 2*pi*60/60 | 2π·60/60 = 6.2832 rad/s | 360 deg/s | 360°/s | 6.2832 | 4π/2
        2*3.14159
    """),
    # 360/32 = 11.25 degrees = 11 degrees 15 minutes; pi/16 rad; 1/32 of a turn
    ANGLE: rows("""
        11°15' | 11° 15′ | 11° 15' 0" | 11 deg 15 min | 11 degrees 15 minutes | 11°15′00″ | 11° 15.0'
        360/32 | 360/32 = 11.25° | 360°/32 = 11.25° | 11-1/4 | 11 1/4° | 11.25° | π/16 rad | pi/16 rad
        0.19635 rad | 1/32 turn | (11.25)° | about 11.25 deg | 11.25 degrees
    """),
    # 2.5 pi = 7.854 mm
    PITCH: rows("""
        2.5 pi | 2.5π | 2.5·π mm | 5π/2 | 5/2 π | 5*pi/2 mm | π*2.5 | p = πm = 2.5π = 7.854 mm
        2.5*3.1416 | pi(2.5) | 2.5π = 7.854 | 7.854 mm pitch
    """),
    TEETH: rows("""
        25 teeth | 25T | 5^2 | 100/4 | 25 teeth in all | 25.0 | 2.5*10 | N = 25
    """),
    # 247.2/(2*10*0.309) = 40 MPa = 40 N/mm2
    STRESS: rows("""
        0.04 GPa | 40 N/mm² | 40e6 Pa | 40000 kPa | 247.2/(2*10*0.309) | 247.2/(2·10·0.309) = 40 MPa
        5.8015 ksi | 40 megapascals | 0.04 kN/mm^2
    """),
    # pi 2.5*20*24/60 = 20 pi = 62.832 mm/s = 0.22619 km/h
    RACK: rows("""
        20π | 20 pi mm/s | 0.2261947 km/h | 62.832 mm/s | 0.062832 m/s | π·50·24/60 = 62.832 mm/s
        3.7699 m/min | pi*2.5*20*24/60
    """),
    # the share of two pairs is 1.25 - 1 = 0.25, that is 25 %
    CONTACT: rows("""
        25 % | 25% | 0.25 = 25 % | (1.25 - 1)*100 % | 1.25 - 1 = 0.25 = 25 % | 1/4 = 25 % | 25 percent
        100/4
    """),
}
WRONG = {
    DIAMETER: rows("""
        1 - 7/8 | 1.875 mm | 1.875 ft | 1.875 kg | 1.875 rpm | 1.875 in radius | radius = 1.875 in
        radius 1.875 in | 1.875 in pitch | 1.875 in circular pitch | outside diameter 1.875 in
        1.875 in outside diameter | 1.875 in base diameter | base diameter = 1.875 | 1.875 in thick
        1.875 in deep | 1.875 or 2 | 1.875 and 2 | 1.875, 2 | 1.875; 1.9 | [1.875, 2] | 1.875 1.875
        1.8-1.9 | 1.8 - 1.9 | 1.8 to 1.9 | 1.8...1.9 | 1.8–1.9 | between 1.8 and 1.9 | 1.875 ± 0.01
        1.875 +/- 0.01 | <1.875 | > 1.875 | at least 1.875 | under 1.875 in | not 1.875 | 1.875?
        30/16 = 1.9 | 30/16 = 1.785 | 30/16 = 2 | 16/30 | 16/30 = 1.875 | 30/16 = | 30/ | /16 | (1.875
        1.875) | 1.875 = 1.875 | 1.875e | 1.875e309 | 1e309 | 1e-309 | 1.8.75 | 1.875. | 1,8,75 | 18.75
        0.1875 | 1875 | 1-9/8 | 1-8/7 | 7-1/8 | 1-7 | 1 7 | 17/8 | 1-7/ | -1.875 | -1-7/8 | 1.875 in in
        1.875 in mm | 47.625 | 47.625 in | 1/0 | nan | inf | in | diameter | one and seven eighths
        {1.875} | {{ 30/16 }} | 1.875 x | ? | 1.875 cw | 0x1.E
        1_875 | half of 3.75 | ½ of 3.75 | half the diameter | 1 and 2 | 1 and 8/7
        ½ of diameter | twice 0.9375 | 1.875 inches of radius | 2*(1-7/8) | 1.875i | 1.875 in²
        1.875 1/in | d/2 = 1.875 | 2d = 3.75 | 1.875 = 2d | 30/16/1 | 30/16 or so 2 | 30 16
        30 over 16 = 2
    """),
    DISTANCE: rows("""
        78.75 in | 78.75 m apart | 78.75 mm module | module 78.75 | 78.75 mm diameter | radius = 78.75 mm
        78.75 mm outside diameter | 18+45 = 64 | 2.5*(18+45)/2 = 78 | 2.5*(18+45)/2 = 79
        2.5*(18+45)/2 = 80 | 2.5*(18+45) | 2.5*(18+45/2) | 2.5*18+45/2 | 2.5*(18+45)/2 in | 2.5*(45-18)/2
        78 to 79 | 78-79 | 78 - 79 | 78 – 79 | 78..79 | 10:30 | 78.75:1 | 1:78.75 | 29/11/2026
        11/29/2026 | 2026-11-29 | 29.11.2026 | 29-11-26 | 12:30:15 | 2.5* | 2.5*(18+45 | C = | C
        78.75 = | = = | 78.75 mm = 78.75 cm | 78.75 mm = 7.5 cm | 9**9**9 | 78.75 mm or 79 mm | 78,750,1
        78.75 N | 78.75 deg | 78.75 degrees | 78° 45' | about | ≈ | 78.75 furlong | 2C = 157.5
        C/2 = 78.75 | C + 1 = 79.75 | 2.5 mm*(18+45)/2 in | sin(78.75) | sqrt() | sqrt | pi | 78.75 pi
        ((((78.75 | 78.75 mm teeth | 78.75 teeth | (78.75)(1)1 | 78.75 % mm | ٧٨٫٧٥ | 78.75 mm backlash
        tooth thickness 78.75 mm | 78.75e10 | 1e400 | --78.75 | +-78.75 | 78.75 mm of backlash
    """),
    RATIO: rows("""
        2:5 | 1:2.5 | 18:45 | 0.4:1 | 1 to 2.5 | 2 to 5 | 18/45 | 18:45 = 0.4 | 0.4 | 2.5:2 | 2.5:1:1
        2.5: | :1 | 2.5:0 | 5:2 = 2 | 45:18 = 2.4 | 2.5 mm | 2.5 rpm | 2.5:1 mm | 2.4 to 2.6 | 2.5 or 5:2
        2.5 deg | 25:1 | 250 % of 2 | 5-2 | 5 2 | 2.5 contact ratio | -2.5 | -2.5:1 | 2.5:x
        two point five | 45:18:1 | 1:2.5:1 | 2.5:1 2 | driver:driven | 45 T : 18 mm | 45 mm : 18 in
    """),
    TRAIN: rows("""
        1:7.5 | 2:15 | 2.5+3 | 2.5 | 50:20 | 20*25/(50*75) | 50/20+75/25
    """),
    SPEED: rows("""
        6 ccw rpm | 6 rpm | 6 rpm counter-clockwise | -6 rpm cw | 6 cw ccw rpm | 6 mm cw | -6 rad/s
        -6 deg/s | -6 Hz | -0.62832 rpm | -0.62832 | -15*45/18 | 6 rpm counter | 6 - rpm | -6:1
        0.62832 rad/s | -6 to -5 | -36 | -6 m/s | 6 degrees cw | -6 rpm torque | 15 rpm cw | -15
    """),
    # the speed that is given, with its own unit, is no answer
    OMEGA: rows("""
        60 rpm | 1 rev/s | 60 | 2 pi rpm | pi | 360 | 2π/0 | 2 pi = 6.5 | 360 rad/s | 60 rev/min
    """),
    ANGLE: rows("""
        11°75' | 11°15 | 11'15" | 11 15 | 11.15 | 11:15 | 11.25 rad | 11° 15' 70" | 11.5° 15' | 11° 15 mm
        11° 15'' 3' | 11-25 | 32/360 | 11.25 rpm | 15° 11' | 11° -15' | -11° 15' | π/16 deg
        11° 15' or 12°
    """),
    PITCH: rows("""
        5/2π | 1/2.5 pi | pi/2.5 | 2.5 | 2.5 pi in | 2.5 pi pi | 2.5π = 8 | 2.5p | 2.5 pie | 5π/2π
    """),
    TEETH: rows("""
        25 mm | 24-26 | 25 to 26 | 24 | 25 in | 25 or 26 | 25 teeth 10 pitch | 25/10 | 20 + 6
    """),
    STRESS: rows("""
        40 GPa | 0.04 | 40 N | 0.4 GPa | 40 psi | 247.2/2*10*0.309 | 40 MPa/2 | 40 N/m² | 40 kg/mm²
    """),
    RACK: rows("""
        20π m/s | 62.832 km/h | 0.2261947 | 20π rpm | 20 π rad/s | 62.832 mm | 62.832 m | 20*3
    """),
    CONTACT: rows("""
        0.25 % | 25:1 | 1:4 | 2.5 % | 25 mm | 1.25 - 1 = 25 | 75 % | 25 % of 2
    """),
}
# fmt: on


@pytest.fixture(scope="module")
def drawn():
    draws = {}
    folders = {path.name[:2]: path for path in content_folder("exercises").glob("[0-9]*")}
    banks = {}

    def draw(case):
        bank, identity, givens, _ = case
        place = bank, identity
        if place not in draws:
            banks.setdefault(bank, {one.id: one for one in load_bank(folders[bank])})
            draws[place] = banks[bank][identity].draw_with(dict(pair.split("=") for pair in givens.split()))
        return draws[place]

    return draw


@pytest.mark.parametrize("place", range(len(RIGHT)), ids=[case[3] for case in RIGHT])
def test_right_answers_are_right_as_students_write_them(place, drawn):
    case, texts = list(RIGHT.items())[place]
    draw = drawn(case)
    refused = []
    for text in texts:
        verdict = draw.question.judge(draw, {case[3]: text})[case[3]]
        if not (verdict.right and verdict.points == verdict.out_of and verdict.read.startswith("read as ")):
            refused.append((text, verdict.kind, verdict.read, verdict.sentence))
    assert not refused


@pytest.mark.parametrize("place", range(len(WRONG)), ids=[case[3] for case in WRONG])
def test_wrong_answers_are_never_right(place, drawn):
    case, texts = list(WRONG.items())[place]
    draw = drawn(case)
    taken = []
    for text in texts:
        verdict = draw.question.judge(draw, {case[3]: text})[case[3]]
        if verdict.right or verdict.points >= verdict.out_of:
            taken.append((text, verdict.read))
    assert not taken


def test_the_lists_are_long():
    assert sum(map(len, RIGHT.values())) >= 200 and sum(map(len, WRONG.values())) >= 250
