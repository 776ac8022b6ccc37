"""Settings, addresses and the door to the server."""
