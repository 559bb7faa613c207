"""What is kept: study folders and their files, sheets, tables, and the run that fills them."""
