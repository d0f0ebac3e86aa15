"""Tables from tills and spreadsheets: read as they are, looked at first, then taken as a whole."""
