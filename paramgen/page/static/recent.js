// What was looked at on this machine, in this browser alone.

const KEY = "recent-projects";
const MOST = 12;

function kept() {
  try {
    const found = JSON.parse(localStorage.getItem(KEY) ?? "[]");
    return Array.isArray(found) ? found.filter((one) => typeof one.address === "string" && one.address.startsWith("/project?")) : [];
  } catch {
    return [];
  }
}

/** Keep an address, with a few words that say what it is. */
export function remember(address, title, verdict) {
  const recipe = new URLSearchParams(address.split("?")[1]).get("recipe");
  const same = (one) => new URLSearchParams(one.address.split("?")[1]).get("recipe") === recipe;
  const said = verdict?.textContent.trim() ?? "";
  // Of one recipe the last three: each key press is not a project of its own.
  const others = kept().filter((one) => one.address !== address);
  const own = others.filter(same).slice(0, 2);
  const rest = others.filter((one) => !same(one));
  try {
    localStorage.setItem(KEY, JSON.stringify([{ address, title, said }, ...own, ...rest].slice(0, MOST)));
  } catch {
    // Nothing is kept where the browser keeps nothing.
  }
}

const section = document.getElementById("recent");
if (section) {
  const list = section.querySelector("ul");
  for (const one of kept()) {
    const item = document.createElement("li");
    const link = document.createElement("a");
    link.href = one.address;
    link.textContent = one.title;
    item.append(link, ` ${one.said ?? ""}`);
    list.append(item);
  }
  section.hidden = !list.children.length;
  document.getElementById("forget").addEventListener("click", () => {
    localStorage.removeItem(KEY);
    section.hidden = true;
  });
}
