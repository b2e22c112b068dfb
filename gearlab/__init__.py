"""gearlab: a teaching workbook on how spur gears mesh.

The names a notebook uses; nothing else happens here. Pictures and widgets are loaded when first asked
for (``from gearlab.widgets import ...``), so that importing gearlab stays quick.
"""

from gearlab.parts import Gear, Mesh, Train
from gearlab.theory import derive

__version__ = "0.1.0"
__all__ = ["Gear", "Mesh", "Train", "derive"]
