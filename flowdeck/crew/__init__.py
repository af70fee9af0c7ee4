"""The pilot played by the tool: from what is owed to the inputs that a person would send."""
