"""The potting job: pots, mix, amounts, batch."""
