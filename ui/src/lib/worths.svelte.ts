import { worth, Trouble } from "./client";
import type { Desk } from "./desk.svelte";

/** What one value is worth, and whether that is of the plan as it was before. */
export type Told = { sentence: string; old: boolean };

/** Worths is what is known of what values are worth: asked for one by one, the value in hand last; another that is asked for stops it. */
export class Worths {
  heard = $state(""); // what the figures are of
  asking = $state(""); // path of the value that is being computed
  failed = $state("");
  private rows = $state<Record<string, { sentence: string; of: string }>>({});
  private inHand = "";
  private running: AbortController | null = null;
  private waiting: ReturnType<typeof setTimeout> | undefined;

  constructor(private readonly desk: Desk) {}

  private get now(): string {
    return this.desk.units + "\n" + this.desk.text;
  }

  /** of is what is told of a value; undefined where nothing is known. */
  of(path: string): Told | undefined {
    const row = this.rows[path];
    return row?.sentence ? { sentence: row.sentence, old: row.of !== this.now } : undefined;
  }

  /** take is called when a value comes to hand; it is computed when it stays there for a moment. */
  take(path: string): void {
    this.inHand = path;
    this.stop();
    this.waiting = setTimeout(() => void this.ask(path), 300);
  }

  /** leave is called when a value leaves the hand. */
  leave(path: string): void {
    if (this.inHand !== path) return;
    this.inHand = "";
    this.stop();
  }

  /** fresh is called when the winter of the text is there: what is known of it is asked for, and the value in hand computed. */
  fresh(): void {
    this.stop();
    void this.ask(this.inHand);
  }

  private stop(): void {
    clearTimeout(this.waiting);
    this.running?.abort();
    this.running = null;
    this.asking = "";
  }

  private async ask(path: string): Promise<void> {
    const of = this.now;
    if (!this.desk.told?.good || this.desk.told.text !== this.desk.text || (path && this.rows[path]?.of === of)) return;
    const mine = new AbortController();
    this.running = mine;
    this.asking = path;
    this.failed = "";
    try {
      const told = await worth(this.desk.name, this.desk.text, path, { units: this.desk.units, width: this.desk.width }, mine.signal);
      for (const r of told.rows) this.rows[r.path] = { sentence: r.sentence, of };
      if (told.heard) this.heard = told.heard;
    } catch (e) {
      if (!mine.signal.aborted && e instanceof Trouble && e.status !== 499) this.failed = e.message;
    } finally {
      if (this.running === mine) {
        this.running = null;
        this.asking = "";
      }
    }
  }
}
