"""The play test's view: takes in, found notes seen and put right, corrections accepted."""
