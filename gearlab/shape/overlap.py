"""Where the teeth of two gears overlap: polygons of the teeth near the line of centres, by shapely.

Polygons serve pictures and areas; contact is worked out on the exact curves (``rolling``).
"""

from __future__ import annotations

import numpy as np


def sector(tooth: np.ndarray, count: int, angle: float, facing: float, reach: int = 6) -> np.ndarray:
    """The teeth of a gear that are near a direction, with its centre, as a closed line.

    Parameters
    ----------
    tooth : array, shape (n, 2)
        One pitch of outline about the origin, its tooth on the +x axis [any one unit].
    count : int
        Number of teeth [-].
    angle : float
        Angle of tooth 0 [rad].
    facing : float
        The direction [rad].
    reach : int
        Teeth on either side of the direction [-]; never more than leave a sector.

    Returns
    -------
    array, shape (m, 2)
        [unit of the tooth]

    Examples
    --------
    >>> sector(np.array([[1.0, -0.2], [1.1, 0.0], [1.0, 0.2]]), 18, 0.0, 0.0, reach=1).shape
    (7, 2)
    """
    reach, step = min(count // 2 - 1, reach), 2 * np.pi / count
    first = round((facing - angle) / step)
    turns = (angle + step * (first + np.arange(-reach, reach + 1)))[:, None]
    cos, sin, open_tooth = np.cos(turns), np.sin(turns), tooth[:-1]
    x = cos * open_tooth[:, 0] - sin * open_tooth[:, 1]
    y = sin * open_tooth[:, 0] + cos * open_tooth[:, 1]
    return np.vstack([np.column_stack([x.ravel(), y.ravel()]), [[0.0, 0.0]]])


def pieces(one: np.ndarray, two: np.ndarray, least: float = 0.0) -> list[np.ndarray]:
    """What lies within both of two closed lines, piece by piece, each a closed line, (n, 2) [unit of the lines].

    Pieces of no more than ``least`` [unit squared] are left out: slivers that only the chords of the lines make.

    >>> square = np.array([[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]])
    >>> [len(piece) for piece in pieces(square, square + 1.0)]
    [4]
    """
    from shapely import Polygon
    both = Polygon(one).intersection(Polygon(two))
    return [np.asarray(piece.exterior.coords)[:-1] for piece in getattr(both, "geoms", [both]) if piece.geom_type == "Polygon" and piece.area > least]


def area(points: np.ndarray) -> float:
    """Area within a closed line through points, (n, 2) [unit of the points, squared].

    >>> area(np.array([[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [0.0, 1.0]]))
    2.0
    """
    x, y = points.T
    return abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))) / 2
