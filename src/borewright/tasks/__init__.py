"""One layer of use cases between rooms and doors: a plain function a task, with a typed result.

The command line, the Python door and the bench call the same functions. Nothing is rendered
here and nothing is asked of a terminal: long work tells a ``progress`` that is passed in, looks
at a ``cancel`` that is passed in, and ends with :class:`borewright.errors.Stopped` once that is
set. :mod:`borewright.tasks.running` runs any of them in a process of its own.
"""

__all__: list[str] = []
