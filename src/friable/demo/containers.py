"""Pots and bench tools of Quillmoor; inside measures invented after common sizes."""

from friable.demo.people import KEEPER, PROPAGATOR, days_ago
from friable.records import actions
from friable.records.models import Bucket, Container, Mixer, Scale
from friable.science.containers import Container as Measures

# name, shape, top, bottom (length, or length and width), height, headspace, note [cm]
POTS = (
    ("9 cm pot", "round", (9,), (6,), 8.5, 1.0, ""),
    ("1 L pot", "round", (13,), (10,), 11, 1.2, ""),
    ("2 L pot", "round", (17,), (12,), 13, 1.5, "The black ones; the grey ones are wider."),
    ("3 L pot", "round", (19,), (13,), 15, 1.5, ""),
    ("5 L pot", "round", (22.5,), (16.5,), 18, 2.0, ""),
    ("10 L pot", "round", (28,), (24,), 22.5, 2.5, "Two people lift it wet."),
    ("long tom", "round", (10,), (7.5,), 18, 1.5, "Clay; for bulbs with deep roots."),
    ("bulb pan", "round", (20,), (15,), 9, 1.2, "Clay."),
    ("orchid basket", "basket", (18,), (13,), 10, 1.0, "Slatted wood."),
    ("pond basket", "square", (22,), (15,), 14, 1.5, "Lined with hessian."),
    ("seed tray", "tray", (35, 21.5), (33.5, 20), 5, 0.8, ""),
    ("cutting cell", "cell", (4, 4), (2.8, 2.8), 5, 0.4, "Sixty to a sheet."),
    ("alpine trough", "tray", (60, 40), (60, 40), 15, 2.0, "Tufa-faced; stays where it stands."),
)

# container, litres of water to the brim, days ago
BRIM_L = (
    ("2 L pot", 2.12, 120),
    ("9 cm pot", 0.37, 120),
    ("seed tray", 3.5, 118),
    ("cutting cell", 0.058, 90),
)


def store_containers() -> dict[str, Container]:
    """Store the containers with what water to the brim has weighed; return them by name."""
    rows = {}
    for name, shape, top, bottom, height, headspace, note in POTS:
        measures = Measures(
            shape=shape,
            top_length_cm=top[0],
            top_width_cm=top[-1],
            bottom_length_cm=bottom[0],
            bottom_width_cm=bottom[-1],
            height_cm=height,
            headspace_cm=headspace,
        )
        rows[name] = actions.add_container(name, measures, by=KEEPER, note=note)
    for name, brim_l, days in BRIM_L:
        actions.measure_pot_volume(rows[name], by=PROPAGATOR, brim_l=brim_l, done_at=days_ago(days))
    return rows


def store_tools() -> tuple[Bucket, Bucket, Mixer, Scale]:
    """Store two buckets, a mixer and a scale."""
    return (
        actions.add_bucket("blue bucket", by=KEEPER, line_l=12, brim_l=14, note="Line in black paint."),
        actions.add_bucket("grey bucket", by=KEEPER, line_l=5, brim_l=6),
        actions.add_mixer("drum mixer", by=KEEPER, working_l=60, note="Never above the weld."),
        actions.add_scale("bench scale", by=KEEPER, smallest_g=5, largest_g=15_000),
    )
