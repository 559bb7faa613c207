"""Sheets of many squares, plots of budgets, two squares compared."""
