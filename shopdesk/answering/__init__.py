"""From an ask to an answer: profile of each yarn, judgement, quantities and lots."""
