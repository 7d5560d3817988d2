import { Trouble, type BandAnswer } from "./client";

/** How many houses are drawn while a plan is left alone, one after the other; how long it is left alone before that, and before it is asked again where somebody waited for another answer [ms]. */
const steps = [20, 60];
const quiet = 3000;
const again = 5000;

/**
 * Rest asks for the band by drawn houses while a plan is left alone. Whatever is changed stops it; where the program has anything else to do it gives way and is asked again later.
 */
export class Rest {
  private timer: ReturnType<typeof setTimeout> | undefined;
  private asking: AbortController | null = null;

  begin(ask: (houses: number, signal: AbortSignal) => Promise<BandAnswer>, take: (band: BandAnswer) => void): void {
    this.stop();
    const mine = new AbortController();
    this.asking = mine;
    const next = (step: number, after: number): void => {
      this.timer = setTimeout(() => {
        if (document.visibilityState === "hidden") return next(step, again);
        ask(steps[step] ?? 0, mine.signal)
          .then((band) => {
            if (mine.signal.aborted) return;
            if (band.gave_way) return next(step, again);
            if (!band.houses) return; // there is none, and the band to first order says why
            take(band);
            if (step + 1 < steps.length) next(step + 1, 0);
          })
          .catch((e: unknown) => {
            if (!mine.signal.aborted && e instanceof Trouble && e.status === 503) next(step, again);
          });
      }, after);
    };
    next(0, quiet);
  }

  stop(): void {
    clearTimeout(this.timer);
    this.asking?.abort();
  }
}
