"""Rescue by a public fire service: what its own officers estimate."""

QUICKEST_PUBLIC_RESCUE_S = 2_880.0
"""48 min: the quickest estimate for a whole confined-space rescue, without hazardous material.

J Occup Environ Hyg 2012;9(2):120-128; estimates run to 123 min, with hazardous material to 173.
"""
