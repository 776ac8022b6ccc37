"""The shipped chart files draw dry-downs without a complaint; no words leave a chart, wide or narrow."""

import pytest

from friable.drawing.dry_down import air_spec, mass_spec, water_and_air_spec

from .pots import drying

LONG = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse, deeper pot"
DRAW = """async (spec) => {
  const heard = [];
  const logger = {level() { return this; }, error: (...m) => (heard.push(m.join(' ')), logger),
                  warn: (...m) => (heard.push(m.join(' ')), logger), info: () => logger, debug: () => logger};
  const host = document.body.appendChild(document.createElement('div'));
  await vegaEmbed(host, spec, {ast: true, actions: false, defaultStyle: false, tooltip: false,
                               renderer: 'svg', logger});
  const frame = host.querySelector('svg').getBoundingClientRect();
  const outside = [...host.querySelectorAll('text')].filter(t => {
    const box = t.getBoundingClientRect();
    return box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1
        || box.bottom > frame.bottom + 1;
  }).map(t => t.textContent);
  return {heard, outside, text: host.textContent, width: frame.width, room: document.body.clientWidth};
}"""
SPECS = {
    "mass of one": mass_spec([drying("bark <b>")]),
    "mass of four": mass_spec([drying(LONG), drying("{{ 1 }}", 100), drying("c", 60), drying("d", 140)]),
    "air of four": air_spec([drying(LONG), drying("b"), drying("c"), drying("d")]),
    "water and air": water_and_air_spec(drying("x", 48)),
}


@pytest.mark.browser
@pytest.mark.parametrize("width", [340, 900])
@pytest.mark.parametrize("name", SPECS)
def test_shipped_chart_files_draw_it_within_its_room(name, width, page, checkout):
    vendor = checkout / "src/friable/web/static/web/vendor"
    page.set_viewport_size({"width": width, "height": 700})
    page.set_content("<!doctype html><title>charts</title><body></body>")
    for part in ("vega", "vega-lite", "vega-embed"):
        page.add_script_tag(path=vendor / part / f"{part}.min.js")
    seen = page.evaluate(DRAW, SPECS[name])
    assert seen["heard"] == []
    assert seen["outside"] == []
    assert seen["width"] <= seen["room"] + 1
    assert "after watering" in seen["text"]
    if name == "mass of four":
        assert "{{ 1 }}" in seen["text"]
        assert "perlite coarse" in seen["text"]
