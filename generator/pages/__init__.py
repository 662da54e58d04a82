"""From values to pages: Markdown with inline SVG and MathML, and CSV beside it."""
