"use strict";
// Shows what holds every word that is typed; sections without anything go too.
const box = document.getElementById("find");
const told = document.getElementById("told");
const said = (node) => node.textContent.toLowerCase();
const units = [...document.querySelectorAll(".row, .chapter p, .chapter li, .chapter pre, .chapter tbody tr")];
const heads = (unit) => {
  const words = [];
  for (let up = unit.closest("section"); up; up = up.parentElement.closest("section")) {
    const head = up.querySelector("h2, h3");
    if (head) words.push(said(head));
  }
  const table = unit.closest("table");
  return words.concat(table ? said(table.tHead) : "").join(" ");
};
const texts = new Map(units.map((unit) => [unit, `${heads(unit)} ${said(unit)}`]));
const sections = [...document.querySelectorAll("main section")];
const wide = [...document.querySelectorAll(".wide")];
function find() {
  const words = box.value.toLowerCase().split(/\s+/).filter(Boolean);
  let shown = 0;
  for (const unit of units) {
    unit.hidden = !words.every((word) => texts.get(unit).includes(word));
    if (!unit.hidden) shown += 1;
  }
  const has = (part) => words.length === 0 || units.some((unit) => !unit.hidden && part.contains(unit));
  for (const part of [...sections, ...wide]) part.hidden = !has(part);
  document.body.classList.toggle("finding", words.length > 0);
  told.textContent = words.length === 0 ? "" : shown === 0 ? "Nothing here says that. Try a shorter word." : `${shown} found`;
}
document.getElementById("finder").hidden = false;
box.value = decodeURIComponent((/^#find=(.*)$/.exec(location.hash) ?? [])[1] ?? "");
box.addEventListener("input", find);
find();
