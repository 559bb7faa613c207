"""Other edgings for a chosen piece: which fit as it is, which after it has grown."""
