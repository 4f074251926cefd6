"""What is wrong, what to change, sizes to turn, order of work, proof."""
