"""The rules of Torchon squares, one a file. Each is a function that writes its clauses for a Model.

A rule's name is the word that explanations and refusals use.
"""
