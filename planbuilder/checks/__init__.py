"""Every check, in printing order. This list is the table of contents of the calculations."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from planbuilder.checks import (
    arrangement,
    clearance,
    fall,
    haul,
    records,
    response,
    rigging,
)
from planbuilder.checks.scene import Scene
from planbuilder.findings import Finding, Rule

CHECKS: tuple[Callable[[Scene], Iterator[Finding]], ...] = (
    haul.check_device_load,
    haul.check_backup_load,
    haul.check_support_load,
    rigging.check_base,
    rigging.check_support_confirmed,
    rigging.check_line_length,
    haul.check_edges,
    haul.check_rated_layer,
    haul.check_haulers,
    haul.check_masses_known,
    response.check_air,
    response.check_detection,
    response.check_clock_start,
    response.check_haul_in_timeline,
    response.check_posture,
    response.check_first_aid,
    response.check_limit_accepted,
    response.check_drilled,
    clearance.check_casualty_passes,
    clearance.check_rescuer_passes,
    clearance.check_hook_height,
    fall.check_clearance,
    fall.check_free_fall,
    fall.check_retractor_anchor,
    fall.check_user_mass,
    arrangement.check_notified_only,
    arrangement.check_mechanical_device,
    arrangement.check_backup,
    arrangement.check_fallback,
    arrangement.check_retrieval_reason,
    arrangement.check_breathing_set,
    arrangement.check_rated_for_people,
    arrangement.check_attendants,
    arrangement.check_attendant_double,
    arrangement.check_set_points,
    arrangement.check_service,
    records.check_current,
    records.check_certificates,
    records.check_inspections,
    records.check_equipment,
    records.check_drill,
    records.check_profile,
)

RULES: tuple[Rule, ...] = tuple(
    value
    for module in (haul, rigging, response, clearance, fall, arrangement, records)
    for value in vars(module).values()
    if isinstance(value, Rule)
)
