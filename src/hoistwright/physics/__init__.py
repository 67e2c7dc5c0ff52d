"""The hoist as a machine: formulas on plain values.

Every function takes numbers or arrays in SI units (m, kg, N, Pa, rad, s), broadcasts them,
and gives a numpy float or array. Efficiencies, friction coefficients and ratios are plain
numbers. One file per subject; nothing here knows files, designs or criteria.
"""
