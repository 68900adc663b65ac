// Requests of the page to the command that serves it, and the same from what a page holds itself.

const kept = document.getElementById("kept");
const holds = document.getElementById("kept-state");

export const isKept = holds !== null;

async function answered(response) {
  if (response.ok) return response;
  const text = await response.text();
  let reason = text;
  try { reason = JSON.parse(text).error; } catch { /* plain text */ }
  const error = new Error(reason.trim() || `the request failed (${response.status})`);
  error.isAnswer = true;
  throw error;
}

async function fetched(path, options) {
  try {
    return await answered(await fetch(path, options));
  } catch (error) {
    if (error.isAnswer) throw error;
    kept.textContent = "The command that serves this page has ended. What you clicked is in the job file.";
    throw error;
  }
}

const held = (name) => JSON.parse(document.getElementById(`kept-${name}`).textContent);

export async function read(path, values = {}) {
  if (isKept) return held(path);
  const query = new URLSearchParams(values).toString();
  return (await fetched(query ? `${path}?${query}` : path)).json();
}

export async function readBytes(path) {
  if (!isKept) return (await fetched(path)).arrayBuffer();
  const letters = atob(document.getElementById(`kept-${path}`).textContent.trim());
  return Uint8Array.from(letters, (c) => c.charCodeAt(0)).buffer;
}

export async function change(path, value = {}) {
  const headers = { "Content-Type": "application/json" };
  return (await fetched(path, { method: "POST", headers, body: JSON.stringify(value) })).json();
}
