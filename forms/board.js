(() => {
  const form = document.querySelector(".choose");
  const rows = [...document.querySelectorAll(".jobs tbody tr")];
  const texts = rows.map((row) => row.textContent.toLowerCase());
  const choose = () => {
    const { text, verdict, who, town, start } = form.elements;
    const words = text.value.toLowerCase().split(/\s+/).filter(Boolean);
    let shown = 0;
    rows.forEach((row, place) => {
      const fits =
        words.every((word) => texts[place].includes(word)) &&
        (!verdict.value || row.dataset.verdict === verdict.value) &&
        (!who.value || row.dataset.who.split("|").includes(who.value)) &&
        (!town.value || row.dataset.town === town.value) &&
        (!start.checked || "start" in row.dataset);
      row.hidden = !fits;
      shown += fits;
    });
    form.querySelector("output").textContent = `${shown} of ${rows.length} jobs`;
  };
  form.addEventListener("input", choose);
  form.addEventListener("submit", (event) => event.preventDefault());
  form.hidden = false;
  choose();
})();
