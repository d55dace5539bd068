"""Site-specific rescue plans, computed: one TOML site file in, one checked plan out."""

__version__ = "0.1.0"
