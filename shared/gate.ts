/**
 * First script of a page, before anything is painted: from here on the style sheet keeps the reveal and the handles that need
 * scripts apart. Should the rest fail to start, everything is shown again.
 */
const root = document.documentElement;
root.classList.add("scripted");
addEventListener("load", () => {
  if (!root.classList.contains("started")) root.classList.remove("scripted");
});
