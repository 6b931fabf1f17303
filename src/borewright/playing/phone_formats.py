"""Recordings as phones write them (M4A with AAC, WebM, 3GP ...), decoded once to a plain file.

libsndfile reads WAV, FLAC, OGG, Opus in OGG, and MP3, in blocks. What it does not know goes once
through FFmpeg's decoders (PyAV) into a temporary file at the recording's own rate, so that all
that follows still works in blocks. Pitch survives these codecs: they keep frequencies and drop
what is masked (compared with the same tones uncompressed in the tests).
"""

from __future__ import annotations

import tempfile
import threading
from collections import OrderedDict
from pathlib import Path

import numpy as np

from borewright.errors import PlayingError
from borewright.words import Message, say

#: What can be read, for messages.
READABLE = "WAV, FLAC, OGG, MP3, M4A, AAC, Opus, WebM, MP4, 3GP"
#: Endings of such files, in small letters.
SUFFIXES = (".wav", ".flac", ".ogg", ".oga", ".opus", ".mp3", ".m4a", ".aac", ".mp4", ".webm",
            ".3gp", ".aif", ".aiff")  # fmt: skip
#: So many decoded recordings are kept beside each other; half an hour of one is 170 MB.
_KEPT = 3
#: A recording that runs on for longer than this (s) is decoded no further.
_ENOUGH_S = 1801.0

_folder: tempfile.TemporaryDirectory[str] | None = None
_decoded: OrderedDict[tuple[str, int, int], Path] = OrderedDict()
_lock = threading.Lock()


def not_readable(path: Path) -> PlayingError:
    """The refusal of a file that no decoder knows."""
    return PlayingError(
        say("is not a recording that can be read"),
        place=str(path),
        remedy=say(
            "Give the file as the phone or the recorder wrote it ({kinds}). From anything else, "
            "save it as WAV in the program that plays it (Export, Save as); a new suffix alone "
            "does not change what is inside.",
            kinds=READABLE,
        ),
    )


def decoded(path: Path) -> Path:
    """A WAV file (16 bits, the recording's own rate) with the sound of ``path``.

    Raises PlayingError where no decoder knows the file, or it holds no sound.
    """
    global _folder
    stat = path.stat()
    key = (str(path.resolve()), stat.st_mtime_ns, stat.st_size)
    with _lock:
        if key in _decoded:
            _decoded.move_to_end(key)
            return _decoded[key]
        if _folder is None:
            _folder = tempfile.TemporaryDirectory(prefix="borewright-")
        target = Path(_folder.name) / f"{abs(hash(key))}.wav"
        try:
            _decode(path, target)
        except BaseException:
            target.unlink(missing_ok=True)
            raise
        _decoded[key] = target
        while len(_decoded) > _KEPT:
            _decoded.popitem(last=False)[1].unlink(missing_ok=True)
        return target


def _decode(path: Path, target: Path) -> None:
    import av
    import soundfile

    try:
        with av.open(str(path)) as container:
            if not container.streams.audio:
                raise PlayingError(
                    say("holds no sound"),
                    place=str(path),
                    remedy=say("Record again, with the microphone allowed."),
                )
            stream = container.streams.audio[0]
            rate = int(stream.rate)
            layout = "mono" if stream.channels == 1 else "stereo"
            resampler = av.AudioResampler(format="s16", layout=layout, rate=rate)
            channels, written = (1 if layout == "mono" else 2), 0
            with soundfile.SoundFile(
                str(target), "w", rate, channels, subtype="PCM_16", format="WAV"
            ) as file:
                for frame in container.decode(stream):
                    for piece in resampler.resample(frame):
                        samples = np.asarray(piece.to_ndarray()).reshape(-1, channels)
                        file.write(samples)
                        written += len(samples)
                    if written > _ENOUGH_S * rate:
                        break
    except (av.FFmpegError, ValueError, OSError) as error:
        raise not_readable(path) from error
    if not written:
        raise PlayingError(_EMPTY, place=str(path), remedy=say("Record again."))


_EMPTY: Message = say("holds no sound")
