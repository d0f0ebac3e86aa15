"""What a yarn is, from every piece of evidence."""
