// What is folded opens where it is needed: on paper, and where a link leads into it. On a narrow page the pieces of work
// start folded, so that one finds the one at hand.
(() => {
  "use strict";
  const folds = [...document.querySelectorAll("details")];
  const show = (element) => {
    for (let at = element; at; at = at.parentElement) if (at.tagName === "DETAILS") at.open = true;
  };
  if (matchMedia("(max-width: 44rem)").matches) for (const piece of document.querySelectorAll("details.piece")) piece.open = false;
  const follow = () => {
    const target = location.hash.length > 1 && document.getElementById(location.hash.slice(1));
    if (target) show(target);
  };
  addEventListener("hashchange", follow);
  follow();
  let closed = [];
  addEventListener("beforeprint", () => {
    closed = folds.filter((fold) => !fold.open);
    for (const fold of closed) fold.open = true;
  });
  addEventListener("afterprint", () => {
    for (const fold of closed) fold.open = false;
  });
})();
