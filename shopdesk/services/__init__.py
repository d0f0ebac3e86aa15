"""What is remembered of a customer's visit: slips, swatches, holds."""
