"""What a site file may say, and how it is read: models, loader, messages with line numbers."""
