"""Pictures of the answer page, as geometry that the templates draw as SVG."""
