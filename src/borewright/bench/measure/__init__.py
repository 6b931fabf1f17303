"""Keys measured on the page: numbers key by key, photographs with a scale, scanned meshes."""
