"""How true the winds are that are fitted to the drift of balloons in worlds of known truth.

For each layer that three or more balloons flew in: the difference to the air that they
met there (mean over their true flights), and to the wind at the layer's middle.

Run: python -m tests.bench.winds [--worlds plain,troubles] [--flights 12] [--seeds 1,2]
"""

# ruff: noqa: T201

import numpy as np

from scorer.checks.winds import LAYER_M, drift_of, wind_table
from scorer.scoring.work import one_thread
from tests.bench.heights import arguments, flown_of
from tests.bench.worlds import make_world


def met(logs, height_m):
    """The mean air of a layer, (2,), over the true flights of all logs."""
    found = []
    for log in logs:
        flying = (log.time_s > log.launch_s + 20.0) & (log.time_s < log.landing_s)
        here = flying & (np.abs(log.height_m - height_m) < LAYER_M / 2)
        altitude = log.altitude_m[here]
        air = log.wind.at(altitude, log.time_s[here] - log.time_s[0])
        found.append(np.column_stack(air))
    return np.concatenate(found).mean(axis=0) if found else np.full(2, np.nan)


def at_middle(logs, height_m, base_m):
    """The wind at the middle of a layer, in the middle of the flights, (2,)."""
    half = np.mean(
        [0.5 * (log.launch_s + log.landing_s) - log.time_s[0] for log in logs]
    )
    east, north = logs[0].wind.at(np.array([base_m + height_m]), np.array([half]))
    return np.array([east[0], north[0]])


def errors_of(name, seed, count):
    """(layers, 4): speed and direction off what was met, and off the middle's wind."""
    world, ground, logs = make_world(name, seed, count)
    with one_thread():
        flowns = flown_of(world, ground, logs)
    rows = []
    for layer in wind_table([drift_of(one) for one in flowns]):
        if layer.balloons < 3:
            continue
        row = []
        for true in (
            met(logs, layer.height_m),
            at_middle(logs, layer.height_m, world.base_m),
        ):
            row.append(layer.speed_m_s - np.hypot(*true))
            came = np.degrees(np.arctan2(*true)) + 180.0
            row.append((layer.from_deg - came + 180.0) % 360.0 - 180.0)
        rows.append(row)
    return np.array(rows).reshape(-1, 4)


def main():
    asked = arguments(flights=12, seeds=[1, 2, 3]).parse_args()
    print(
        "world        layers  off the air met: median, worst; within   off the middle"
    )
    for name in asked.worlds:
        found = [errors_of(name, seed, asked.flights) for seed in asked.seeds]
        off = np.abs(np.concatenate(found))
        text = f"{name:13}{len(off):6}"
        for speed, turn in (off[:, :2].T, off[:, 2:].T):
            within = np.mean((speed <= 0.5) & (turn <= 10.0))
            text += f"  {np.median(speed):5.2f} m/s {speed.max():5.2f}"
            text += (
                f"  {np.median(turn):5.1f}° {turn.max():5.1f}  {100 * within:4.0f} %"
            )
        print(text, flush=True)


if __name__ == "__main__":
    main()
