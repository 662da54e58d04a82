"""A card that works the reader's own numbers in the page: its formulas, data and drawing as one script."""
