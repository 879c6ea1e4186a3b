/** The filter of the page "How we know". Without scripts the page shows everything. */
const select = document.querySelector<HTMLSelectElement>("#kernel-filter");
const sections = [...document.querySelectorAll<HTMLElement>("section[data-kernel]")];

const show = (kernel: string): void => {
  for (const section of sections) section.hidden = kernel !== "" && !(section.dataset["kernel"] ?? "").split(" ").includes(kernel);
};

if (select !== null) {
  select.disabled = false;
  select.addEventListener("change", () => show(select.value));
}
