"""Planning on plain numbers: which fittings share a mix, in which order drills are changed, what is done when."""
