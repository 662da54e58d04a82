"""A job sheet worked: its fittings by their cards, then loads, holes, mixes, the clock, and what to buy."""
