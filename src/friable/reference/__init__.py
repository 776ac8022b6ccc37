"""Published and common figures of the trade, each with its source."""
