// Draws the charts of a page from their descriptions. With `ast` expressions are interpreted, never
// compiled; without actions, tooltip and default style nothing is written that the content policy forbids.

const OPTIONS = { ast: true, actions: false, tooltip: false, defaultStyle: false, renderer: "canvas" };

const draw = async (host) => {
  const spec = JSON.parse(document.getElementById(host.dataset.chart).textContent);
  await document.fonts.ready;
  await vegaEmbed(host, spec, OPTIONS);
  host.dataset.drawn = "yes";
};

for (const host of document.querySelectorAll("[data-chart]")) draw(host);
