/*
 * Keeps the line about the search for a better plan true while the page stays open. The board itself stays as it is until
 * somebody asks for the better one: nobody reads a board that moves. Without script the line and its link stand as they came.
 */
const ASK_EVERY_MS = 1000;

let followed;

/** Follows the search that the page tells of, where it tells of one: again after each renewal of the page. */
export function followPlanning() {
  const block = document.querySelector(".planning");
  if (block === followed) return;
  followed = block;
  if (block !== null) setTimeout(follow, ASK_EVERY_MS, block);
}

async function follow(block) {
  if (block !== followed || !block.isConnected) return;
  let now;
  try {
    const answer = await fetch(block.dataset.status, { cache: "no-store", headers: { "x-page-renewal": "1" } });
    if (!answer.ok) return;
    now = await answer.json();
  } catch {
    // The server is away, or the page is being left: the link is still there.
    return;
  }
  if (now.stamp !== block.dataset.stamp) finish(block, "There is a better plan now.", "Show it");
  else if (now.line === null) finish(block, "No better plan was found.", "");
  else {
    block.querySelector(".planning-line").textContent = now.line;
    setTimeout(follow, ASK_EVERY_MS, block);
  }
}

function finish(block, sentence, invitation) {
  block.querySelector(".planning-line").textContent = "";
  block.querySelector(".planning-end").textContent = sentence;
  const link = block.querySelector("a");
  link.textContent = invitation;
  link.hidden = invitation === "";
}
