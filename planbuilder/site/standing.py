"""What a support stands on or holds on to at an opening."""

from __future__ import annotations

from enum import StrEnum

from planbuilder.site.fields import Count, Distance, Size, Stress, Strict, Turn


class Ground(StrEnum):
    """What a base or a vehicle stands on."""

    ROCK = "rock"
    SEDIMENTARY_ROCK = "sedimentary-rock"
    GRAVEL = "gravel"
    SAND = "sand"
    CLAY = "clay"
    SOFT = "soft-or-filled"
    CONCRETE = "concrete-slab"


class Surface(StrEnum):
    """What the wheels of a vehicle stand on."""

    DRY_CONCRETE = "dry-concrete"
    DRY_ASPHALT = "dry-asphalt"
    WET_CONCRETE = "wet-concrete"
    WET_ASPHALT = "wet-asphalt"
    GRAVEL = "gravel"
    WET_GRASS = "wet-grass"
    SNOW = "snow"
    ICE = "ice"


class WallKind(StrEnum):
    """What a clamp or a bracket holds on to."""

    SOLID_CONCRETE = "solid-concrete"
    SHORING_PANEL = "shoring-panel"
    STEEL = "steel"
    SOLID_MASONRY = "solid-masonry"
    PARAPET = "parapet"
    HOLLOW = "hollow-or-veneer"
    CORRODED = "corroded-or-cracked"


class Stand(Strict):
    """What the support stands on or holds on to at this place."""

    ground: Ground | None = None
    surface: Surface | None = None
    slope: Turn | None = None
    slope_towards: Turn | None = None
    edge_distance: Distance | None = None
    wall: WallKind | None = None
    wall_thickness: Size | None = None
    wall_height: Size | None = None
    height: Size | None = None
    people_on_post: Count | None = None
    ledge_width: Size | None = None
    ledge_stress: Stress | None = None
