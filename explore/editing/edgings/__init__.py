"""Other edgings for a chosen piece, tried on (`trying`): which fit as it is, which after it has grown."""
