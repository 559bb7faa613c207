"""What a piece of Torchon lace is, and when it can be worked."""
