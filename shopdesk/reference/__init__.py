"""The trade's tables as data files, each row with its source and status, and their one reader."""
