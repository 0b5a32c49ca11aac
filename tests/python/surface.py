"""What vibration, play and grip make of the surface: see `mechanics/surface.rs`,
`modes.rs`, `grip.rs`."""

import numpy as np

TAU = 2 * np.pi


def scatter(prepared, normal, push, kept, abrupt):
    """Variance of where the tool is when it makes the wall, for a force uneven by its whole self."""
    k, z, f = normal
    mean, swing, at_wall = push
    turned = TAU * f / prepared.passes
    impulse = np.abs(mean) * turned
    gentle = TAU / (TAU + turned * prepared.pushes)
    step = swing * (abrupt + (1 - abrupt) * gentle)
    pushed = impulse * step / np.maximum(np.hypot(impulse, step), np.finfo(float).tiny)
    decay = 2 * kept * z * turned
    rings = pushed * pushed * 0.5 * np.exp(-decay * prepared.since) / -np.expm1(-decay)
    bends = at_wall * followed(turned * prepared.before)
    return (rings / (k * k)).sum(axis=0) + (bends / k).sum(axis=0) ** 2


def followed(turned):
    """Share of its bend that a mode reaches while it turns by so much."""
    return turned * turned / (2 + turned * turned)


def evened(prepared, modes, ktc, krc, depth):
    """Unevenness that is left of a force whose chip gives way: an autoregression."""
    k, _, f = modes
    follows = (followed(TAU * f / prepared.passes * prepared.pushes) / k).sum(axis=0)
    (feed, _), (_, normal) = prepared.feedback.matrix(ktc, krc)
    gain = depth * (feed * follows[0] + normal * follows[1]) / prepared.pushes
    return 1 / np.sqrt(1 + 2 * np.maximum(gain, 0))


def deflection(prepared, normal, mean, harmonics):
    """Steady response when the wall is made; Schmitz and Mann (2006)."""
    k, z, f = normal
    order = np.arange(1, len(harmonics) + 1)[:, None, None]
    ratio = order * (prepared.passes / f)
    stiff, lossy = 1 - ratio * ratio, 2 * z * ratio
    level, ahead = harmonics[:, :1], harmonics[:, 1:]
    swings = ((stiff * level + lossy * ahead) / (stiff * stiff + lossy * lossy)).sum(axis=0)
    return ((mean + swings) / k).sum(axis=0)


def cusp_ra(height):
    return 4 / (9 * np.sqrt(3)) * height


def scatter_ra(scatter, feed, radius):
    there = scatter > 0
    some = np.where(there, scatter, 1)
    shown = feed / np.sqrt(radius * some)
    return np.where(there, np.sqrt(2 / np.pi) * some * shown / (1 + shown), 0)


def grip(prepared, iron, feed, normal, lift):
    """Safety against slipping and against lifting."""
    holding = prepared.setup["holding"]
    friction = 2 * iron["Friction"] * iron["ClampForce"]
    along = 0 if holding["stop"] else feed
    sliding = 1.5 * np.sqrt(along * along + normal * normal + lift * lift)
    tipping = 1.5 * (np.hypot(feed, normal) * holding["height"] + lift * 20)
    presses = holding["kind"] in ("step_clamps", "plate")
    holds = iron["ClampForce"] if presses else friction
    return friction / np.maximum(sliding, 1e-9), holds * 20 / np.maximum(tipping, 1e-9)
