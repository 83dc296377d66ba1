/*
 * Keeps the line about the search for a better plan true while the page stays open. The board itself stays as it is until
 * somebody asks for the better one: nobody reads a board that moves. Without script the line and its link stand as they came.
 */
const ASK_EVERY_MS = 1000;

const block = document.querySelector(".planning");
const line = block.querySelector(".planning-line");
const end = block.querySelector(".planning-end");
const link = block.querySelector("a");

async function follow() {
  let now;
  try {
    const answer = await fetch(block.dataset.status, { cache: "no-store" });
    if (!answer.ok) return;
    now = await answer.json();
  } catch {
    // The server is away, or the page is being left: the link is still there.
    return;
  }
  if (now.stamp !== block.dataset.stamp) finish("There is a better plan now.", "Show it");
  else if (now.line === null) finish("No better plan was found.", "");
  else {
    line.textContent = now.line;
    setTimeout(follow, ASK_EVERY_MS);
  }
}

function finish(sentence, invitation) {
  line.textContent = "";
  end.textContent = sentence;
  link.textContent = invitation;
  link.hidden = invitation === "";
}

setTimeout(follow, ASK_EVERY_MS);
