/**
 * Latest does one work at a time; of those asked for meanwhile the last is done next and the others are dropped. So nothing is done out of order, and a slow machine draws fewer
 * frames instead of old ones.
 */
export class Latest {
  private running = false;
  private next: (() => Promise<void>) | null = null;

  ask(work: () => Promise<void>): void {
    this.next = work;
    if (!this.running) void this.run();
  }

  private async run(): Promise<void> {
    this.running = true;
    try {
      while (this.next) {
        const work = this.next;
        this.next = null;
        await work();
      }
    } finally {
      this.running = false;
    }
  }
}
