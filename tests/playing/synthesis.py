"""Clarinet-like tones of known pitch: odd harmonics strong, noise, vibrato, transients."""

from __future__ import annotations

import numpy as np

RATE = 44_100


def tone(
    hz: float,
    seconds: float,
    rng: np.random.Generator,
    *,
    rate: int = RATE,
    vibrato_cents: float = 0.0,
    vibrato_hz: float = 5.3,
    transient_ms: float = 60.0,
    glide_cents: float = 25.0,
    snr_db: float = 30.0,
    level: float = 0.1,
) -> np.ndarray:
    """A tone whose pitch glides to ``hz`` within ``transient_ms`` (to e^-5 of the glide)."""
    time = np.arange(int(seconds * rate)) / rate
    settling = np.exp(-5 * time / (transient_ms / 1000))
    cents = glide_cents * settling
    cents = cents + vibrato_cents * np.sin(2 * np.pi * (vibrato_hz * time + rng.uniform()))
    phase = 2 * np.pi * np.cumsum(hz * 2 ** (cents / 1200)) / rate
    wave = np.zeros_like(time)
    for number in range(1, 18):
        if number * hz > 0.45 * rate:
            break
        strength = (1.0 if number % 2 else 0.15) / number**1.2
        wave += strength * np.sin(number * phase + rng.uniform(0, 2 * np.pi))
    wave *= level / np.sqrt(np.mean(wave**2))
    # The amplitude rises with the transient and ends within 20 ms.
    wave *= 1 - 0.9 * np.exp(-5 * time / min(transient_ms / 1000, 0.3))
    wave *= np.clip((time[-1] - time) / 0.02, 0, 1)
    wave *= np.clip(time / 0.005, 0, 1)
    return wave + rng.normal(size=len(time)) * level * 10 ** (-snr_db / 20)


def room(seconds: float, rng: np.random.Generator, level: float, rate: int = RATE) -> np.ndarray:
    """Room noise: white noise with more of it below 200 Hz."""
    count = int(seconds * rate)
    spectrum = np.fft.rfft(rng.normal(size=count))
    frequency = np.fft.rfftfreq(count, 1 / rate)
    spectrum *= 1 + 10 / (1 + (frequency / 200) ** 2)
    noise = np.fft.irfft(spectrum, count)
    return noise * level / np.sqrt(np.mean(noise**2))


def breath(seconds: float, rng: np.random.Generator, level: float, rate: int = RATE) -> np.ndarray:
    """A breath: noise around 1 to 4 kHz that swells and goes."""
    count = int(seconds * rate)
    spectrum = np.fft.rfft(rng.normal(size=count))
    frequency = np.fft.rfftfreq(count, 1 / rate)
    spectrum *= np.exp(-(((np.log2(np.maximum(frequency, 1) / 2000)) / 1.0) ** 2))
    noise = np.fft.irfft(spectrum, count) * np.hanning(count)
    return noise * level / np.sqrt(np.mean(noise**2))
