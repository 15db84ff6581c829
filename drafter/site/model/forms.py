"""The forms that keys of several entries share, and the words for a default taken from practice."""

from drafter.quantity import Kind
from drafter.reader import ListForm, QuantityForm, TextForm, WordForm

PRACTICE = "common practice"

LENGTH = QuantityForm(Kind.LENGTH, "0 mm", "500 m")
SIZE = QuantityForm(Kind.LENGTH, "1 mm", "500 m")
ANY_LENGTH = QuantityForm(Kind.LENGTH, "-500 m", "500 m")
PRESSURE = QuantityForm(Kind.PRESSURE, "0.1 bar", "40 bar")
AIR_TEMPERATURE = QuantityForm(Kind.TEMPERATURE, "-40 degC", "70 degC")
LABEL_TEMPERATURE = QuantityForm(Kind.TEMPERATURE, "0 degC", "250 degC")
TAG = TextForm("A1", 12)
POINT = ListForm(ANY_LENGTH, 2, 2)
ROOM = TextForm("workshop", 31)
NAME = TextForm("A. Name", 60)
WALL = TextForm("north", 40)
BOWL = WordForm(("plastic", "metal"))
