"""Into which containers a mix really went."""

from friable.records.models import Container


def containers_of(mix):
    """Containers into which a mix was potted, or is to be; those of the newest jobs first."""
    seen = Container.objects.filter(in_use=True, job_lines__job__mix_version__mix=mix)
    newest_first = seen.order_by("-job_lines__job__created_at", "job_lines__position")
    return list(dict.fromkeys(newest_first))
