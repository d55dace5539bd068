"""Equipment: at hand and enough of it, examined and fit for use; what people speak by."""
