// Follows a person's own recipe file as it is saved.

export function follow(saved) {
  const place = document.querySelector("[data-follow]");
  if (!place) return;
  const name = place.dataset.follow;
  const source = new EventSource(`/follow?recipe=${encodeURIComponent(name)}`);
  source.addEventListener("message", saved);
  addEventListener("pagehide", () => source.close());
}

if (document.querySelector("[data-anew]")) follow(() => location.reload());
