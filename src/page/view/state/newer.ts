/** A newer page: hosted, it is fetched beside the one that is open, and taken when she says so. */

export class Newer {
  ready = false;
  private waiting: ServiceWorker | null = null;
  private hearers = new Set<() => void>();

  constructor() {
    if (document.documentElement.dataset["hosted"] !== "yes" || !("serviceWorker" in navigator)) return;
    void this.register();
  }

  private async register(): Promise<void> {
    const registration = await navigator.serviceWorker.register("service-worker.js").catch(() => null);
    if (!registration) return;
    const installed = (worker: ServiceWorker | null) => {
      // The first one has no older page to wait for.
      if (!worker || !navigator.serviceWorker.controller) return;
      this.waiting = worker;
      this.ready = true;
      for (const hear of this.hearers) hear();
    };
    installed(registration.waiting);
    registration.addEventListener("updatefound", () => {
      const worker = registration.installing;
      worker?.addEventListener("statechange", () => worker.state === "installed" && installed(worker));
    });
  }

  follow(hear: () => void): () => void {
    this.hearers.add(hear);
    return () => this.hearers.delete(hear);
  }

  take(): void {
    navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
    this.waiting?.postMessage("take over");
  }
}
