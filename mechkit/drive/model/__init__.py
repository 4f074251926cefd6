"""The model: parts, train and body, and every law of the drive once."""
