"""Every recipe that a bucket can measure, by the blending rule: tables, inner loops, the sweep over all."""
