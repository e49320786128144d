"""The workshop's computation: units, fasteners, torque, tightening order, limits, weighing, reliability.

Pure functions. Inside: millimetre, gram, newton-metre, newton, megapascal; what a person typed is kept as typed.
"""
