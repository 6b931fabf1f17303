"""From natural logarithms of frequency ratios to cents."""

import math

#: Cents in a unit of the natural logarithm of a frequency ratio.
CENTS_PER_LOG = 1200 / math.log(2)
