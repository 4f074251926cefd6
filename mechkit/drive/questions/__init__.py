"""What each panel asks of the model, under the panel's name."""
