// Shows one of the moments of a pot at a time; without scripts, and on paper, they stand side by side.

const box = document.querySelector("[data-moments]");
const slider = box.querySelector("input");
const said = box.querySelector("output");
const moments = [...box.querySelectorAll("figure")];

const show = () => {
  const chosen = moments[slider.valueAsNumber - 1];
  box.classList.toggle("one", Boolean(chosen));
  moments.forEach((moment) => moment.classList.toggle("here", moment === chosen));
  said.value = chosen ? chosen.dataset.said : said.dataset.all;
  slider.setAttribute("aria-valuetext", said.value);
};

slider.addEventListener("input", show);
box.querySelector(".moment-slider").hidden = false;
show();
