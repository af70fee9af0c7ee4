"""What is different between two decks, as values: all that a reviser must look at and sign."""
