import { Latest } from "./latest";

/** Asked is an answer that is asked for anew now and then: the last one stands until the next is there; of those asked for meanwhile the last counts. */
export class Asked<T> {
  answer = $state.raw<T | null>(null);
  trouble = $state("");
  private readonly latest = new Latest();

  ask(request: () => Promise<T>): void {
    this.latest.ask(async () => {
      try {
        this.answer = await request();
        this.trouble = "";
      } catch (e) {
        this.trouble = e instanceof Error ? e.message : String(e);
      }
    });
  }
}
