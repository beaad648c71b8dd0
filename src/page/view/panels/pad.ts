/** Dots of colour: each change makes a new pad. */

type Dot = [number, number];

export class Pad {
  private constructor(
    readonly width: number,
    readonly height: number,
    private readonly dots: readonly string[],
  ) {}

  static empty(width: number, height: number, colour: string): Pad {
    return new Pad(width, height, Array<string>(width * height).fill(colour));
  }

  /** A picture brought down to dots, each in the nearest of the colours. */
  static of(picture: OffscreenCanvas, longest: number, colours: readonly string[]): Pad {
    const shrink = longest / Math.max(picture.width, picture.height);
    const [width, height] = [Math.max(1, Math.round(picture.width * shrink)), Math.max(1, Math.round(picture.height * shrink))];
    const canvas = new OffscreenCanvas(width, height);
    const context = canvas.getContext("2d");
    if (!context) return Pad.empty(width, height, "#ffffff");
    context.imageSmoothingQuality = "high";
    context.drawImage(picture, 0, 0, width, height);
    const { data } = context.getImageData(0, 0, width, height);
    const parts = colours.map((colour) => [1, 3, 5].map((at) => parseInt(colour.slice(at, at + 2), 16)));
    const dots = Array.from({ length: width * height }, (_, at) => {
      const off = parts.map((part) => part.reduce((sum, level, of) => sum + (level - (data[at * 4 + of] ?? 0)) ** 2, 0));
      return colours[off.indexOf(Math.min(...off))] ?? "#ffffff";
    });
    return new Pad(width, height, dots);
  }

  at(x: number, y: number): string {
    return this.dots[y * this.width + x] ?? "#ffffff";
  }

  private with(places: Dot[], colour: string, mirror: boolean): Pad {
    const dots = [...this.dots];
    for (const [x, y] of places) {
      dots[y * this.width + x] = colour;
      if (mirror) dots[y * this.width + this.width - 1 - x] = colour;
    }
    return new Pad(this.width, this.height, dots);
  }

  line([x0, y0]: Dot, [x1, y1]: Dot, colour: string, mirror: boolean): Pad {
    const steps = Math.max(Math.abs(x1 - x0), Math.abs(y1 - y0), 1);
    const places = Array.from({ length: steps + 1 }, (_, step): Dot => [
      Math.round(x0 + ((x1 - x0) * step) / steps),
      Math.round(y0 + ((y1 - y0) * step) / steps),
    ]);
    return this.with(places, colour, mirror);
  }

  /** Fills what is of one colour and touches. */
  fill(from: Dot, colour: string, mirror: boolean): Pad {
    const old = this.at(...from);
    const found: Dot[] = [];
    const seen = new Set<number>();
    const open: Dot[] = [from];
    for (let dot = open.pop(); dot; dot = open.pop()) {
      const [x, y] = dot;
      const place = y * this.width + x;
      if (x < 0 || y < 0 || x >= this.width || y >= this.height || seen.has(place) || this.at(x, y) !== old) continue;
      seen.add(place);
      found.push(dot);
      open.push([x + 1, y], [x - 1, y], [x, y + 1], [x, y - 1]);
    }
    return this.with(found, colour, mirror);
  }

  canvas(scale: number): OffscreenCanvas {
    const canvas = new OffscreenCanvas(this.width * scale, this.height * scale);
    this.draw(canvas.getContext("2d"), scale);
    return canvas;
  }

  show(canvas: HTMLCanvasElement | null): void {
    if (!canvas) return;
    [canvas.width, canvas.height] = [this.width * 8, this.height * 8];
    this.draw(canvas.getContext("2d"), 8);
  }

  private draw(context: CanvasRenderingContext2D | OffscreenCanvasRenderingContext2D | null, scale: number): void {
    if (!context) return;
    this.dots.forEach((colour, at) => {
      context.fillStyle = colour;
      context.fillRect((at % this.width) * scale, Math.floor(at / this.width) * scale, scale, scale);
    });
  }
}
