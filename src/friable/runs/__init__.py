"""Long work: in blocks over an executor, with progress, stop and going on."""
