"""The units that plans and data files may use, as Pint defines units. No prefixes: a unit is known only if it is listed.

Exact factors: NIST Special Publication 811 (2008), appendix B.8; US gallon of 231 cubic inches, appendix B.6 (from memory). A board foot
is 144 cubic inches of nominal size (American lumber trade; common practice, no source).
"""

DEFINITIONS = """
meter = [length] = m = metre
millimeter = 0.001 * meter = mm = millimetre
centimeter = 0.01 * meter = cm = centimetre
inch = 0.0254 * meter = in = inches
foot = 12 * inch = ft = feet
yard = 3 * foot = yd

second = [time] = s
minute = 60 * second = min
hour = 3600 * second = h
day = 24 * hour = d

kilogram = [mass] = kg
gram = 0.001 * kilogram = g
pound = 0.45359237 * kilogram = lb
ounce = pound / 16 = oz

standard_gravity = 9.80665 * meter / second ** 2 = g_0
newton = kilogram * meter / second ** 2 = N
kilonewton = 1000 * newton = kN
pound_force = pound * standard_gravity = lbf
kilogram_force = kilogram * standard_gravity = kgf

pascal = newton / meter ** 2 = Pa
kilopascal = 1000 * pascal = kPa
megapascal = 1000000 * pascal = MPa
gigapascal = 1000000000 * pascal = GPa
pound_force_per_square_inch = pound_force / inch ** 2 = psi

litre = 0.001 * meter ** 3 = l = liter
millilitre = 0.001 * litre = ml = milliliter
gallon = 231 * inch ** 3 = gal
quart = gallon / 4 = qt
pint = gallon / 8 = pt
fluid_ounce = gallon / 128 = fl_oz
board_foot = 144 * inch ** 3

percent = [share] = %
"""
