/** History holds all texts of a plan since it was opened, for undo and redo without end. Its texts outlive a reload of the window. */
export class History {
  private texts: string[];
  private at: number;

  constructor(
    private readonly key: string,
    text: string,
    private readonly store: Pick<Storage, "getItem" | "setItem"> | null,
  ) {
    this.texts = [text];
    this.at = 0;
    try {
      const old = JSON.parse(store?.getItem(key) ?? "null") as { texts: string[]; at: number } | null;
      const last = old?.texts[old.at];
      if (old && last !== undefined) {
        // another text than the window's last: that one was not kept, or the file was changed meanwhile; Undo brings it back
        this.texts = last === text ? old.texts : [...old.texts.slice(0, old.at + 1), text];
        this.at = last === text ? old.at : old.at + 1;
      }
    } catch {
      // what cannot be read is no history
    }
  }

  /** The text that the plan was opened with. */
  get first(): string {
    return this.texts[0] ?? "";
  }
  get canUndo(): boolean {
    return this.at > 0;
  }
  get canRedo(): boolean {
    return this.at < this.texts.length - 1;
  }

  push(text: string): void {
    if (text === this.texts[this.at]) return;
    this.texts = [...this.texts.slice(0, this.at + 1), text];
    this.at++;
    this.keep();
  }
  undo(): string | undefined {
    if (!this.canUndo) return undefined;
    this.at--;
    this.keep();
    return this.texts[this.at];
  }
  redo(): string | undefined {
    if (!this.canRedo) return undefined;
    this.at++;
    this.keep();
    return this.texts[this.at];
  }

  private keep(): void {
    // the window's own store is small: where all texts do not fit, the last ones are kept
    for (let most = this.texts.length; most > 1; most = Math.floor(most / 2)) {
      const from = Math.max(0, Math.min(this.at, this.texts.length - most));
      try {
        this.store?.setItem(this.key, JSON.stringify({ texts: this.texts.slice(from, from + most), at: this.at - from }));
        return;
      } catch {
        continue;
      }
    }
  }
}
