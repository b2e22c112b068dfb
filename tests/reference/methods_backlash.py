"""Published recommendations of backlash, asked for by the name of their table."""

from methods import given

from gearlab.parts.published.recommended import RECOMMENDED_BACKLASH


def recommended(row):
    plain = given(row)
    module = plain["m"] if "m" in plain else 1 / plain["P"]
    return RECOMMENDED_BACKLASH[row["output"]].backlash(module, plain.get("a", plain.get("C")))


METHODS = {"recommended_backlash": recommended}
