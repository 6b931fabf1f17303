"""The printing's view: from the design to files at size, with everything the checks found."""
