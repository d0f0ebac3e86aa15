"""From judged yarns to the whole answer, and the answer as a document."""
