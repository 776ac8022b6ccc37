"""Pages of the windows: what is asked of the media of each plant group."""
