"""What a yarn's band says against what all the evidence says."""
