/*
 * Lets people look at the password that they type. Without script it stays hidden, and the form works all the same.
 */
for (const form of document.querySelectorAll(".person-form")) {
  const fields = [...form.querySelectorAll('input[type="password"]')];
  if (fields.length === 0) continue;
  const box = document.createElement("input");
  box.type = "checkbox";
  box.addEventListener("change", () => {
    for (const field of fields) field.type = box.checked ? "text" : "password";
  });
  // A browser must not remember what was typed as if it were ordinary text.
  form.addEventListener("submit", () => {
    for (const field of fields) field.type = "password";
  });
  const label = document.createElement("label");
  label.className = "show-password";
  label.append(box, fields.length === 1 ? " Show the password" : " Show the passwords");
  form.querySelector('button[type="submit"]').before(label);
}
