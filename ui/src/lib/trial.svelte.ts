import { Trouble } from "./client";

/** Trial is an answer that is asked for by a button: it can be stopped; what is wrong stands at its field. */
export class Trial<T> {
  answer = $state.raw<T | null>(null);
  of = $state(""); // what the answer is of
  trouble = $state(""); // that is of no field
  fields = $state.raw<Record<string, string>>({});
  private mine = $state.raw<AbortController | null>(null);

  get running(): boolean {
    return this.mine !== null;
  }

  /** run asks; known are the fields that a form shows: what is wrong with others is told below. */
  async run(of: string, known: string[], ask: (signal: AbortSignal) => Promise<T>): Promise<void> {
    const mine = new AbortController();
    this.mine = mine;
    this.trouble = "";
    this.fields = {};
    try {
      this.answer = await ask(mine.signal);
      this.of = of;
    } catch (e) {
      if (mine.signal.aborted) return;
      this.fields = e instanceof Trouble ? e.fields : {};
      if (!Object.keys(this.fields).some((f) => known.includes(f))) this.trouble = e instanceof Error ? e.message : String(e);
    } finally {
      if (this.mine === mine) this.mine = null;
    }
  }

  stop(): void {
    this.mine?.abort();
    this.mine = null;
  }
}
