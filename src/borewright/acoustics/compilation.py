"""How kernels are compiled, and where compiled code is kept between runs.

Compiled kernels go to the user's cache folder: BOREWRIGHT_CACHE, else XDG_CACHE_HOME, else
~/.cache. An unwritable folder only costs the compilation time of every run.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

# A compilation that takes two minutes is an error to the compiler, which tells it on standard
# error. It is none to the person at the terminal; it must be said before jax is loaded.
os.environ.setdefault("TF_CPP_MIN_LOG_LEVEL", "3")

import jax

#: XLA's newer fusion emitters take 2.5 times as long to compile these kernels for CPUs and
#: give no faster code (measured with jaxlib 0.10.2).
_CPU_OPTIONS = {"xla_cpu_use_fusion_emitters": False}


def cache_folder() -> Path:
    """Folder for compiled kernels and other results that can always be made again."""
    own = os.environ.get("BOREWRIGHT_CACHE")
    if own:
        return Path(own)
    base = os.environ.get("XDG_CACHE_HOME")
    return (Path(base) if base else Path.home() / ".cache") / "borewright"


def configure() -> None:
    """Double precision, and compiled code kept on disk."""
    update: Callable[[str, Any], None] = jax.config.update
    update("jax_enable_x64", True)
    update("jax_compilation_cache_dir", str(cache_folder() / "kernels"))
    update("jax_persistent_cache_min_compile_time_secs", 0.3)
    update("jax_persistent_cache_min_entry_size_bytes", 0)


@cache
def _compiler_options() -> dict[str, Any] | None:
    """Options this compiler knows; another version or device may not have them."""
    try:
        jax.jit(lambda x: x + 1.0, compiler_options=_CPU_OPTIONS)(1.0)
    except Exception:
        # Any refusal means the same: compile with the defaults, which only takes longer.
        return None
    return _CPU_OPTIONS


def compiled(
    function: Callable[..., Any], static_argnums: tuple[int, ...] = (0, 1)
) -> Callable[..., Any]:
    """``jax.jit`` with our compiler options, decided at the first call."""
    ready: list[Callable[..., Any]] = []

    def call(*arguments: Any) -> Any:
        if not ready:
            options = _compiler_options()
            ready.append(jax.jit(function, static_argnums=static_argnums, compiler_options=options))
        return ready[0](*arguments)

    call.__doc__ = function.__doc__
    return call
