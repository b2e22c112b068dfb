"""Gears drawn by coordinates, for the closed forms.

An unwinding string, circles, lines and halving; nothing of gearlab.

The involute function does not occur: where it is needed, the string's end is laid out by coordinates and its
angle read off. Lengths in any one unit, angles in radians.
"""

import math


def halve(function, low, high):
    """Where a function changes its sign, by halving to the last bit."""
    sign = function(low) > 0
    assert sign != (function(high) > 0), "no change of sign between the limits"
    for _ in range(200):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        if (function(middle) > 0) == sign:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def string_end(base, roll, start=0.0):
    """End of a taut string unwound from the base circle by an angle, and where it leaves the circle."""
    leaves = (base * math.cos(start + roll), base * math.sin(start + roll))
    return (
        leaves[0] + base * roll * math.sin(start + roll),
        leaves[1] - base * roll * math.cos(start + roll),
    ), leaves


def roll_at(base, radius):
    """Angle by which the string is unwound where its end is at a radius."""
    return halve(lambda roll: math.hypot(*string_end(base, roll)[0]) - radius, 0.0, 2 * radius / base)


def turned_at(base, radius):
    """Polar angle of the string's end at a radius, from where the involute starts."""
    (x, y), _ = string_end(base, roll_at(base, radius))
    return math.atan2(y, x)


def foot(distance, angle):
    """Distance of the centre from the line through (distance, 0) that leans from the tangent there by an
    angle: the base radius.
    """
    direction = (math.sin(angle), math.cos(angle))
    return abs(distance * direction[1])


class Tooth:
    """A gear by its circles and the thickness of its tooth."""

    def __init__(
        self,
        teeth,
        module,
        angle,
        shift=0.0,
        thinning=0.0,
        addendum=1.0,
        dedendum=1.25,
        shortening=0.0,
        extra=0.0,
    ):
        self.teeth, self.angle, self.pitch = teeth, math.radians(angle), teeth * module / 2
        self.base = foot(self.pitch, self.angle)
        self.tip, self.root = (
            self.pitch + (addendum + shift) * module - shortening,
            self.pitch - (dedendum - shift) * module - extra,
        )
        # The tooth fills the space of the rack, which is wider by the slope of both its flanks where the rack
        # is moved outwards.
        out = shift * module * math.sin(self.angle) / math.cos(self.angle)
        self.thickness = math.pi * module / 2 + 2 * out - thinning
        self.step = 2 * math.pi / teeth

    def half_angle(self, radius):
        """Half of the angle that the tooth takes up at a radius."""
        return (
            self.thickness / 2 / self.pitch + turned_at(self.base, self.pitch) - turned_at(self.base, radius)
        )

    def thick(self, radius):
        return 2 * radius * self.half_angle(radius)

    @property
    def half_base(self):
        return self.thickness / 2 / self.pitch + turned_at(self.base, self.pitch)

    def pin_centre(self, pin):
        """Distance from the gear's centre of a pin that rests on both flanks of a space.

        By the nearest point of the flank.
        """
        start = self.step / 2 - self.half_base  # the flank beside the space that lies along the x axis

        def short(distance):
            def gap(roll):
                (x, y), _ = string_end(self.base, roll, start)
                return math.hypot(x - distance, y)

            low, high = 0.0, 3.0
            for _ in range(120):
                one, two = low + (high - low) / 3, high - (high - low) / 3
                low, high = (low, two) if gap(one) < gap(two) else (one, high)
            return gap(low) - pin / 2

        return halve(short, self.base, 3 * self.tip)

    def pin_touching(self, radius):
        """Diameter of the pin that touches both flanks of a space at a radius.

        Its centre is where the normal meets the middle of the space.
        """
        start = self.step / 2 - self.half_base
        (x, y), (u, v) = string_end(self.base, roll_at(self.base, radius), start)
        centre = x + (x - u) * y / (v - y)
        return 2 * math.hypot(centre - x, y)


class Pairing:
    """Two gears at a centre distance.

    The first at the origin, the second on the x axis; the line of action by its two tangent points.
    """

    def __init__(self, one, two, distance):
        self.one, self.two, self.distance = one, two, distance
        # The radii to both tangent points are parallel; the line between these stands square to them.
        self.angle = halve(lambda a: distance * math.cos(a) - one.base - two.base, 0.0, math.pi / 2)
        across = (math.cos(self.angle), math.sin(self.angle))
        self.across = across
        self.tangent1 = (one.base * across[0], one.base * across[1])
        self.tangent2 = (distance - two.base * across[0], -two.base * across[1])
        self.length = math.dist(self.tangent1, self.tangent2)
        self.along = tuple((b - a) / self.length for a, b in zip(self.tangent1, self.tangent2, strict=True))
        self.pitch_point = halve(lambda t: self.at(t)[1], 0.0, self.length)
        self.radii = (self.at(self.pitch_point)[0], distance - self.at(self.pitch_point)[0])

    @property
    def start(self):
        """Where the second gear's tips come into the line of action, from the first tangent point."""
        return halve(
            lambda t: math.dist(self.at(t), (self.distance, 0)) - self.two.tip, -self.length, self.length
        )

    @property
    def end(self):
        """Where the first gear's tips leave it."""
        return halve(lambda t: math.hypot(*self.at(t)) - self.one.tip, 0.0, 2 * self.length)

    def at(self, t):
        """Point of the line of action, so far from the first tangent point."""
        return (self.tangent1[0] + t * self.along[0], self.tangent1[1] + t * self.along[1])

    def speeds(self, t, turning=1.0):
        """Speeds of both flanks across the line of action, at a point of it; the first gear turns so fast."""
        x, y = self.at(t)
        second = -turning * self.one.base / self.two.base
        velocities = (-turning * y, turning * x), (-second * y, second * (x - self.distance))
        return tuple(vx * self.across[0] + vy * self.across[1] for vx, vy in velocities)

    @property
    def backlash(self):
        pitch = 2 * math.pi * self.radii[0] / self.one.teeth
        return pitch - self.one.thick(self.radii[0]) - self.two.thick(self.radii[1])


def tight(one, two):
    """Centre distance at which two gears run without play."""
    least = one.base + two.base
    return halve(
        lambda distance: Pairing(one, two, distance).backlash,
        least * (1 + 1e-9),
        1.2 * (one.pitch + two.pitch),
    )
