"""What a swatch says about its item and its yarn."""
