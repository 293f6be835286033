"""Means over the seasons of a gathered study, and the two pictures of FINDINGS.md.

    evenfall study run wheels.json --into wheels && evenfall study gather wheels.json --into wheels
    python look.py wheels/study.parquet

Needs pandas, pyarrow and matplotlib.
"""

import sys

import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt
import pandas as pd

BY = ["factor_wheel_diameter", "factor_outlet_spacing", "factor_nozzle", "factor_pressure", "factor_day_wind", "name"]
FIGURES = ["cu_percent", "du_lq_percent", "yield_percent", "yield_worst_tenth_percent", "percolation_mm"]
SQUARES = {"systematic_square_points2": "systematic_points", "random_square_points2": "random_points"}
ORDER = ["Fixed", "Two stops", "Three stops"]


def means(path: str) -> pd.DataFrame:
    """A row a point and alternative: means over the seasons; S and R from means of their squares."""
    rows = pd.read_parquet(path, columns=[*BY, *FIGURES, *SQUARES])
    rows["factor_nozzle"] = rows["factor_nozzle"].astype(str).str.extract(r"([0-9]+/[0-9]+ in)", expand=False)
    found = rows.groupby(BY, sort=False).mean(numeric_only=True).reset_index()
    for square, name in SQUARES.items():
        found[name] = found.pop(square).clip(lower=0) ** 0.5
    found.insert(len(BY), "feet", found["factor_wheel_diameter"].str.removesuffix(" ft").astype(float))
    return found


def by_wheel(found: pd.DataFrame, figure: str, label: str, name: str) -> None:
    """A figure against the wheel's diameter, a panel an outlet spacing, all else averaged over."""
    spacings = list(dict.fromkeys(found["factor_outlet_spacing"]))
    fig, axes = plt.subplots(1, len(spacings), figsize=(10, 3.6), sharey=True, layout="constrained")
    for axis, spacing in zip(axes, spacings):
        here = found[found["factor_outlet_spacing"] == spacing]
        for way, mark in zip(ORDER, "os^"):
            line = here[here["name"] == way].groupby("feet")[figure].mean()
            axis.plot(line.index, line.values, marker=mark, label=way)
        axis.set(title=f"outlets {spacing} apart", xlabel="diameter of the wheels, ft")
    axes[0].set_ylabel(label)
    axes[0].legend()
    fig.savefig(name, dpi=110)


if __name__ == "__main__":
    found = means(sys.argv[1])
    found.round(3).drop(columns="feet").to_csv("wheels-means.csv", index=False, lineterminator="\n")
    by_wheel(found, "cu_percent", "CU of the season, %", "cu-by-wheel.png")
    by_wheel(found, "systematic_points", "S, points", "systematic-by-wheel.png")
