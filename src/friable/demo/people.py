"""The people of Quillmoor, all invented: initials only."""

from datetime import datetime, timedelta

from django.utils import timezone

KEEPER = "MK"
PROPAGATOR = "TB"
HELPER = "JO"
BUYER = "RV"
RESEARCHER = "EL"


def days_ago(days: int, hour: int = 10) -> datetime:
    """Return a morning so many days ago."""
    day = timezone.localtime().replace(hour=hour, minute=15, second=0, microsecond=0)
    return day - timedelta(days=days)
