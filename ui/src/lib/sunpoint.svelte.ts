import { sunAt, Trouble, type SunAnswer } from "./client";
import type { Desk } from "./desk.svelte";
import { Latest } from "./latest";

/** SunPoint is a point of the section with the hours of sun it gets on a day. */
export class SunPoint {
  told = $state<SunAnswer | null>(null);
  x = $state(0); // of the mark [m]
  z = $state(0);
  month = $state(0); // 0: the shortest day
  day = $state(0);
  asking = $state(false);
  private readonly latest = new Latest();
  private of = "";
  private asked = 0;

  constructor(private readonly desk: Desk) {}

  /** ask tells of a point; without one the program chooses it. */
  ask(x?: number, z?: number): void {
    if (x !== undefined && z !== undefined) [this.x, this.z] = [x, z];
    const at = x === undefined ? {} : { x_m: x, z_m: z };
    this.asking = true;
    const mine = ++this.asked;
    this.latest.ask(async () => {
      const text = this.desk.told?.text ?? this.desk.text;
      try {
        const told = await sunAt(this.desk.name, text, { ...at, month: this.month, day: this.day }, { units: this.desk.units, width: this.desk.width });
        this.told = told;
        if (mine === this.asked) [this.x, this.z, this.month, this.day] = [told.x_m, told.z_m, told.month, told.day]; // the hand may be further by now
        this.of = text + this.desk.units;
      } catch (e) {
        if (e instanceof Trouble && this.told) this.told = { ...this.told, sentence: e.message, picture: { name: "", svg: "" } };
      } finally {
        if (mine === this.asked) this.asking = false;
      }
    });
  }

  /** on chooses another day; of a shorter month its last. */
  on(month: number, day: number): void {
    this.month = month;
    this.day = Math.min(day, new Date(2001, month, 0).getDate());
    this.ask(this.x, this.z);
  }

  /** again asks anew where the plan is another by now. */
  again(): void {
    if (this.told && this.desk.told?.good && this.of !== this.desk.told.text + this.desk.units) this.ask(this.x, this.z);
  }

  close(): void {
    this.told = null;
    this.month = this.day = 0;
  }
}
