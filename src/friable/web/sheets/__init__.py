"""Paper: batch sheet, bin labels, bench card as PDF."""
