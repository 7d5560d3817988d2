import type { components } from "./interface";

export type Choice = components["schemas"]["Choice"];

/** Choices of a plan are kept in the browser, by folder and plan; nothing of them stands in the plan's file. */
const key = (folder: string, plan: string) => `suncellar choices ${folder} ${plan}`;

export function keptChoices(folder: string, plan: string): Choice[] {
  try {
    const list: unknown = JSON.parse(localStorage.getItem(key(folder, plan)) ?? "[]");
    if (!Array.isArray(list)) return [];
    return list.filter((c): c is Choice => typeof (c as Choice)?.changes === "string").map((c) => ({ name: String(c.name ?? ""), changes: c.changes }));
  } catch {
    return []; // what cannot be read is no choice
  }
}

export function keepChoices(folder: string, plan: string, list: Choice[]): void {
  try {
    localStorage.setItem(key(folder, plan), JSON.stringify(list));
  } catch {
    // a browser that keeps nothing has them until the window is closed
  }
}
