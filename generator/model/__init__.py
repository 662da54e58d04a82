"""What YAML means: typed cards and data, and errors that point at file, line and column."""
