import { band, drawnBand, look, type Hidden, readPlan, Trouble, winter, writePlan, type Look, type Moves, type PlanText, type BandAnswer, type View, type WinterAnswer } from "./client";
import { History } from "./history";
import { Latest } from "./latest";
import { Rest } from "./rest";

/** How far a text is kept: on the disk; on its way; not, and why. */
export type Kept = "kept" | "writing" | "conflict" | "unreachable" | "refused";

const housePictures = ["floor-plan.svg", "view.svg"];

/** Desk is the plan that is worked on: its text, what is told of it, and how far it is kept. */
export class Desk {
  name = $state("");
  text = $state("");
  told = $state<Look | null>(null);
  answer = $state<WinterAnswer | null>(null);
  band = $state<BandAnswer | null>(null); // of what is not known of the house: of the last text at rest
  old = $state(false); // the answer is of a text before this one
  rested = $state(""); // the text of the last whole answer: the one of which the program has all details
  computing = $state(false);
  kept = $state<Kept>("kept");
  trouble = $state("");
  disk = $state<PlanText | null>(null); // what lies there, in a conflict
  units = $state<"" | "SI" | "US">("");
  hide = $state<Hidden[]>([]); // what is left out of the section
  azimuth = $state(35); // from where the house is looked at [degrees]
  canUndo = $state(false);
  canRedo = $state(false);

  private revision = "";
  private history: History | null = null;
  private changing = Promise.resolve(); // changes are made one after the other, none is dropped
  private readonly looking = new Latest();
  private readonly wintering = new Latest();
  private readonly writing = new Latest();
  private asking: AbortController | null = null;
  private readonly rest = new Rest();
  private bandOf = $state("");
  private retry: ReturnType<typeof setTimeout> | undefined;
  width = 720;

  get view(): View {
    return { units: this.units, width: this.width };
  }

  async open(name: string): Promise<void> {
    const plan = await readPlan(name);
    this.name = name;
    this.take(plan);
    this.history = new History("suncellar " + name, plan.text, sessionStorage);
    this.answer = null;
    this.band = null;
    this.sayHistory();
    this.refresh();
  }

  private take(plan: PlanText): void {
    this.text = plan.text;
    this.revision = plan.revision;
    this.kept = "kept";
    this.disk = null;
    this.trouble = "";
  }

  /** change makes changes in the plan and keeps them. */
  change(moves: Moves): void {
    this.changing = this.changing.then(async () => {
      const told = await this.lookAt(this.text, { ...moves, pictures: housePictures, azimuth: this.azimuth });
      if (!told) return;
      this.told = told;
      this.set(told.text);
    });
  }

  /** preview shows changes while something is dragged; nothing is kept. */
  preview(moves: Moves): void {
    this.looking.ask(async () => {
      const told = await this.lookAt(this.text, moves);
      if (!told) return;
      this.told = { ...told, pictures: this.told?.pictures ?? [] };
      this.compute(told.text, told.good, true);
    });
  }

  /** type takes a text as it is typed. */
  type(text: string): void {
    this.set(text);
    this.refresh();
  }

  /** opened is the text that the plan was opened with. */
  opened(): string {
    return this.history?.first || this.text;
  }

  undo(): void {
    this.go(this.history?.undo());
  }
  redo(): void {
    this.go(this.history?.redo());
  }
  private go(text: string | undefined): void {
    if (text === undefined) return;
    this.text = text;
    this.sayHistory();
    this.save();
    this.refresh();
  }

  private set(text: string): void {
    this.text = text;
    this.history?.push(text);
    this.sayHistory();
    this.save();
    this.compute(text, this.told?.good ?? true);
  }

  private sayHistory(): void {
    this.canUndo = this.history?.canUndo ?? false;
    this.canRedo = this.history?.canRedo ?? false;
  }

  /** refresh asks for everything anew: after a text was opened or typed, or the units were changed. */
  refresh(): void {
    const text = this.text;
    this.looking.ask(async () => {
      const told = await this.lookAt(text, { pictures: housePictures, azimuth: this.azimuth });
      if (!told) return;
      this.told = told;
      this.compute(text, told.good);
    });
  }

  /** redraw draws what is told anew; no winter is asked for. */
  redraw(): void {
    const text = this.text;
    this.looking.ask(async () => {
      const told = await this.lookAt(text, { pictures: housePictures, azimuth: this.azimuth });
      if (told) this.told = told;
    });
  }

  /** turn looks at the house from another side. */
  turn(by: number): void {
    this.azimuth = (this.azimuth + by + 360) % 360;
    this.refresh();
  }

  private async lookAt(text: string, moves: Moves): Promise<Look | null> {
    try {
      const snow = { snow_m: this.answer?.snow_m ?? 0, ground_snow_m: this.answer?.ground_snow_m ?? 0 };
      const told = await look(this.name, text, { ...moves, ...snow, hide: this.hide }, this.view);
      if (this.trouble && this.kept === "kept") this.trouble = "";
      return told;
    } catch (e) {
      this.trouble = e instanceof Error ? e.message : String(e);
      return null;
    }
  }

  /** compute asks for the winter of a text; a brief one, while something is dragged, has the pictures of the one before. */
  private compute(text: string, good: boolean, brief = false): void {
    this.old = this.answer !== null;
    this.rest.stop();
    this.asking?.abort(); // nothing may delay the winter
    if (!good) return;
    this.wintering.ask(async () => {
      this.computing = true;
      try {
        const answer = await winter(this.name, text, this.view, brief);
        this.answer = brief ? { ...answer, text: this.answer?.text } : answer;
        if (!brief) this.rested = text;
        this.old = text !== this.text && text !== this.told?.text;
        if (text === this.text) this.sureOf(text);
        if (!brief && this.told?.section && (answer.snow_m !== this.told.section.snow_m || answer.ground_snow_m !== this.told.section.ground_snow_m)) this.redraw();
      } catch (e) {
        if (e instanceof Trouble && e.status !== 422) this.trouble = e.message;
      } finally {
        this.computing = false;
      }
    });
  }

  /** sureOf asks for the band of a text at rest; the one before is dropped. */
  private sureOf(text: string): void {
    if (this.band && this.bandOf === text + this.units) return this.drawWhileAtRest(text);
    this.asking?.abort();
    this.asking = new AbortController();
    band(this.name, text, this.view, this.asking.signal)
      .then((b) => {
        if (text !== this.text) return;
        this.band = b;
        this.bandOf = text + this.units;
        this.drawWhileAtRest(text);
      })
      .catch((e) => {
        if (e instanceof Trouble && e.status !== 499 && e.status !== 422) this.trouble = e.message;
      });
  }

  /** drawWhileAtRest puts the band by drawn houses in the place of that to first order, which comes at once, where the plan is left alone. */
  private drawWhileAtRest(text: string): void {
    this.rest.begin(
      (houses, signal) => drawnBand(this.name, text, this.view, houses, signal),
      (b) => {
        if (text === this.text && this.band) this.band = { ...b, things: this.band.things };
      },
    );
  }

  /** banded tells whether the band is of the text as it stands. */
  get banded(): boolean {
    return this.band !== null && this.bandOf === this.text + this.units;
  }

  /** save puts the text on the disk; until it is there, the window says so. */
  private save(): void {
    if (this.kept === "conflict") return;
    this.kept = "writing";
    clearTimeout(this.retry);
    const text = this.text;
    this.writing.ask(async () => {
      try {
        const plan = await writePlan(this.name, text, this.revision);
        this.revision = plan.revision;
        if (this.text === text) this.kept = "kept";
        this.trouble = "";
      } catch (e) {
        this.failed(e);
      }
    });
  }

  private failed(e: unknown): void {
    if (!(e instanceof Trouble)) throw e;
    this.trouble = e.message;
    if (e.status === 409) {
      this.kept = "conflict";
      this.disk = e.disk ?? null;
      return;
    }
    this.kept = e.status === 0 || e.status >= 500 ? "unreachable" : "refused";
    this.retry = setTimeout(() => this.save(), 2000);
  }

  /** theirs takes what lies on the disk; the text before stays in the history. */
  theirs(): void {
    if (!this.disk) return;
    const disk = this.disk;
    this.take(disk);
    this.history?.push(disk.text);
    this.sayHistory();
    this.refresh();
  }

  /** mine writes this window's text over what lies on the disk. */
  mine(): void {
    this.revision = this.disk?.revision ?? "";
    this.disk = null;
    this.kept = "writing";
    this.save();
  }
}
