"""Water moving through pots: one pot or thousands, by the same code.

`medium` and `column` describe a pot, `spec` what is done to it, `pots` runs them. Behind it `lanes` solves
sixteen pots side by side, and `robust` one pot with iterations: the few that stall, the checks, hysteresis.
"""
