"""Prints how well the texts that are only measured with are read, field by field."""

from tests.patterns.corpus_files import headers
from tests.patterns.measuring import table, tally

if __name__ == "__main__":
    print(table(tally(header for header in headers() if header.only_to_measure)))
