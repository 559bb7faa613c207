"""Other pieces made of those that were found: varied, hung together, mirrored, fitted, redrafted, compared, counted."""
