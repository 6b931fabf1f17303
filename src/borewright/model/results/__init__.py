"""The shelf of results that other rooms make and hand to each other, doors and documents.

They lie here, and not in the rooms that make them, because every room may read ``model`` but
not each other. Nothing is computed here: small typed records that know their units, print well
and turn into JSON with ``model_dump(mode="json", by_alias=True)``, the same way everywhere.

``tuning``, ``character``, ``blowing`` come from ``acoustics``; ``fitting``, ``blending`` and
``smoothed`` from ``fit``; ``playtest``, ``campaign``, ``advice`` and ``listening`` from
``playing``; ``solids`` from ``solids``; ``work`` from ``ledger``; ``findings`` from
whatever checks.
"""
