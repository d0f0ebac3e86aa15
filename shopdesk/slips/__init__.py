"""What is printed: one content object, drawn as PDF papers, HTML and tickets."""
