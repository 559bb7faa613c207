"""What fits a budget of pairs: figures of every half-size, and the best of them that each budget affords."""
