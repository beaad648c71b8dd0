/** Where the scene is looked at from: zoom and pan by wheel, pinch, keys and hand; and what a finger takes. */

interface Takes {
  tap: (address: string, more: boolean) => void;
  begin: (more: boolean) => void;
  over: (addresses: string[]) => void;
}

/** What the buttons take beside or below the scene, in pixels. */
const BUTTONS = 52;
/** How long after it was last moved the scene is drawn sharply again, in milliseconds. */
const REST = 160;
/** Farther than this a tap is a drag, in pixels. */
const STILL = 8;

export class Sight {
  private scale = 1;
  private x = 0;
  private y = 0;
  private frame: HTMLElement | null = null;
  private sheet: HTMLElement | null = null;
  private room = { x: 0, y: 0 };
  private rests: ReturnType<typeof setTimeout> | undefined;
  private fingers = new Map<number, { x: number; y: number }>();

  /** Keeps the sheet as large as its frame allows. */
  follow(frame: HTMLElement, sheet: HTMLElement, aspect: number): () => void {
    this.frame = frame;
    this.sheet = sheet;
    const fit = () => {
      const { clientWidth, clientHeight } = frame;
      const beside = Math.min(clientWidth - BUTTONS, clientHeight * aspect);
      const below = Math.min(clientWidth, (clientHeight - BUTTONS) * aspect);
      const width = Math.max(beside, below, 1);
      frame.toggleAttribute("data-beside", beside >= below);
      frame.toggleAttribute("data-below", beside < below);
      this.room = beside >= below ? { x: BUTTONS, y: 0 } : { x: 0, y: BUTTONS };
      frame.style.setProperty("--sheet-width", `${Math.floor(width)}px`);
      frame.style.setProperty("--sheet-height", `${Math.floor(width / aspect)}px`);
      this.lay();
    };
    const watch = new ResizeObserver(fit);
    watch.observe(frame);
    fit();
    return () => watch.disconnect();
  }

  whole(): void {
    [this.scale, this.x, this.y] = [1, 0, 0];
    this.lay();
  }

  /** Nearer or farther, about a point of the frame. */
  zoom(by: number, at?: { x: number; y: number }): void {
    const frame = this.frame?.getBoundingClientRect();
    if (!frame) return;
    const scale = Math.min(16, Math.max(1, this.scale * by));
    const { room } = this;
    const [x, y] = at ? [at.x - frame.x - (frame.width - room.x) / 2, at.y - frame.y - (frame.height - room.y) / 2] : [0, 0];
    const ratio = scale / this.scale;
    this.x = x - (x - this.x) * ratio;
    this.y = y - (y - this.y) * ratio;
    this.scale = scale;
    this.lay();
  }

  private pan(x: number, y: number): void {
    this.x += x;
    this.y += y;
    this.lay();
  }

  private lay(): void {
    const { frame, sheet } = this;
    if (!frame || !sheet) return;
    const room = (side: number) => (side * (this.scale - 1)) / 2;
    const [across, down] = [room(frame.clientWidth), room(frame.clientHeight)];
    this.x = Math.min(across, Math.max(-across, this.x));
    this.y = Math.min(down, Math.max(-down, this.y));
    // While it moves, what is drawn is moved as it is; a thousand units are drawn anew once it rests.
    sheet.classList.add("moving");
    clearTimeout(this.rests);
    this.rests = setTimeout(() => sheet.classList.remove("moving"), REST);
    sheet.style.transform = this.scale === 1 ? "" : `translate(${this.x}px, ${this.y}px) scale(${this.scale})`;
  }

  /** Follows fingers, mouse and wheel. */
  takes(frame: HTMLElement, takes: Takes): () => void {
    const { signal, abort } = controller();
    let from: { x: number; y: number; panning: boolean; dragging: boolean; more: boolean } | null = null;
    let last: { x: number; y: number } | null = null;
    const unit = (x: number, y: number) => {
      const hit = document.elementFromPoint(x, y);
      return hit instanceof Element && frame.contains(hit) ? hit.getAttribute("data-unit") : null;
    };
    const between = (a: { x: number; y: number }, b: { x: number; y: number }) => {
      const steps = Math.max(1, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / 6));
      const found = new Set<string>();
      for (let step = 0; step <= steps; step++) {
        const address = unit(a.x + ((b.x - a.x) * step) / steps, a.y + ((b.y - a.y) * step) / steps);
        if (address) found.add(address);
      }
      return [...found];
    };
    frame.addEventListener(
      "pointerdown",
      (event) => {
        if (event.target instanceof Element && event.target.closest(".sight, .before")) return;
        this.fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
        const panning = event.button === 1 || this.fingers.size > 1;
        const more = event.shiftKey || event.ctrlKey || event.metaKey || event.pointerType === "touch";
        from = { x: event.clientX, y: event.clientY, panning, dragging: false, more };
        last = { x: event.clientX, y: event.clientY };
        if (event.button === 1) event.preventDefault();
      },
      { signal },
    );
    frame.addEventListener(
      "pointermove",
      (event) => {
        const finger = this.fingers.get(event.pointerId);
        if (!finger || !from || !last) return;
        const now = { x: event.clientX, y: event.clientY };
        if (this.fingers.size === 2) {
          this.pinch(event.pointerId, now);
        } else if (from.panning) {
          this.pan(now.x - finger.x, now.y - finger.y);
        } else if (from.dragging || Math.hypot(now.x - from.x, now.y - from.y) > STILL) {
          if (!from.dragging) takes.begin(from.more);
          from.dragging = true;
          takes.over(between(last, now));
        }
        this.fingers.set(event.pointerId, now);
        last = now;
      },
      { signal },
    );
    const up = (event: PointerEvent) => {
      const known = this.fingers.delete(event.pointerId);
      if (!known || !from) return;
      if (event.type === "pointerup" && !from.panning && !from.dragging) {
        const address = unit(event.clientX, event.clientY);
        if (address) takes.tap(address, from.more);
      }
      // The finger that stays after a pinch takes nothing.
      from = this.fingers.size > 0 ? { ...from, panning: true } : null;
    };
    window.addEventListener("pointerup", up, { signal });
    window.addEventListener("pointercancel", up, { signal });
    frame.addEventListener(
      "wheel",
      (event) => {
        event.preventDefault();
        if (event.shiftKey || Math.abs(event.deltaX) > Math.abs(event.deltaY)) this.pan(-event.deltaX - event.deltaY, 0);
        else this.zoom(Math.exp(-event.deltaY * 0.0015), { x: event.clientX, y: event.clientY });
      },
      { signal, passive: false },
    );
    return abort;
  }

  /** Two fingers: their distance is how near, their middle is where. */
  private pinch(moved: number, now: { x: number; y: number }): void {
    const [other] = [...this.fingers].filter(([id]) => id !== moved).map(([, at]) => at);
    const old = this.fingers.get(moved);
    if (!other || !old) return;
    const far = (a: { x: number; y: number }) => Math.hypot(a.x - other.x, a.y - other.y);
    const middle = (a: { x: number; y: number }) => ({ x: (a.x + other.x) / 2, y: (a.y + other.y) / 2 });
    this.zoom(far(now) / Math.max(1, far(old)), middle(now));
    this.pan(middle(now).x - middle(old).x, middle(now).y - middle(old).y);
  }
}

function controller(): { signal: AbortSignal; abort: () => void } {
  const made = new AbortController();
  return { signal: made.signal, abort: () => made.abort() };
}
