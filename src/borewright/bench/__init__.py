"""The bench: one page in the browser where the maker works. It computes nothing itself.

How it hangs together
---------------------
- :class:`~borewright.bench.workbench.Workbench`: one open folder. ``bench.files(Kind.TAKE)``,
  ``bench.instrument``, ``.fingerings``, ``.survey`` (None where there is none), ``bench.path``;
  ``bench.edit(instrument, what, page)`` saves at once, with undo. ``bench.folder.save(name,
  data, what)`` saves any other table the same way, ``.receive(name, data)`` a new file,
  ``.path(name)`` checks a name. ``bench.edition`` counts changes.
- ``job = await bench.jobs.run(Task.FIT, work)``: ``work(job)`` runs in a thread and calls
  ``job.progress(share, said)``, which raises once the job was cancelled; afterwards
  ``job.result`` or ``job.error``. What holds the interpreter for long (solids) runs as
  ``jobs.apart(job, use_case, ...)``, in a process of its own. A job is known by its task; what
  it says is data, told by each page.
  ``await bench.kernel(function, ...)`` is for some milliseconds of computing.
- :class:`~borewright.bench.page.Page`: one browser page. ``page.workbench``, ``page.selected``
  (note, hole), ``page.select(note=...)``, ``page.on_change(listener)`` (a ``Change``: "instrument",
  "files", "job", "settings", "trouble"), ``page.on_select``, ``page.on_key(key, words, action)``,
  ``page.save(function)`` (shows errors), ``page.fail(error)``, ``page.tell(text)``, ``page.units``.
- A view is a module with ``build(page)`` and a line in ``views.VIEWS``. Widgets are in
  ``bench.widgets``; every text goes through ``words._("...")``, what outlives a
  page through ``borewright.words.say``. Methods that wait for a job are ``@page.outliving``.

Importing this package loads no web server; :func:`serve` does.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from borewright.listing import listed

if TYPE_CHECKING:
    from borewright.bench.certificate import served_encrypted as served_encrypted
    from borewright.bench.server import serve as serve

__all__, __getattr__ = listed(__name__, __file__)
