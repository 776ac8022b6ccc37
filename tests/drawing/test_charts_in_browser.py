"""The shipped chart files read our chart descriptions without a complaint and draw them."""

import pytest

from friable.drawing.charts import ChartPoint, Series, air_by_height_spec, retention_spec

DRAW = """async (spec) => {
  const heard = [];
  const logger = {level() { return this; }, error: (...m) => (heard.push(m.join(' ')), logger),
                  warn: (...m) => (heard.push(m.join(' ')), logger), info: () => logger, debug: () => logger};
  const host = document.body.appendChild(document.createElement('div'));
  const made = await vegaEmbed(host, spec, {ast: true, actions: false, defaultStyle: false, tooltip: false,
                                            renderer: 'svg', logger});
  return {heard, text: host.textContent, lines: host.querySelectorAll('path').length};
}"""


@pytest.mark.browser
@pytest.mark.parametrize("chart", [retention_spec, air_by_height_spec])
def test_shipped_chart_files_draw_it(chart, page, checkout):
    vendor = checkout / "src/friable/web/static/web/vendor"
    page.set_content("<!doctype html><title>charts</title><body></body>")
    for name in ("vega", "vega-lite", "vega-embed"):
        page.add_script_tag(path=vendor / name / f"{name}.min.js")
    points = tuple(ChartPoint(at, 1 / (1 + at), 0.9 / (1 + at), 1.1 / (1 + at)) for at in (1, 4, 10, 20, 30))
    seen = page.evaluate(DRAW, chart([Series("bark <b>", points), Series("{{ 1 }}", points)]))
    assert seen["heard"] == []
    assert "bark <b>" in seen["text"]
    assert "{{ 1 }}" in seen["text"]
    assert seen["lines"] > 10
