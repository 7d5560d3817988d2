import { Trouble, type View } from "./client";
import type { components } from "./interface";

export type StudyRequest = components["schemas"]["StudyRequest"];
export type StudyAnswer = components["schemas"]["StudyAnswer"];

/** study asks for one and tells how far it is; aborting the signal stops it in the program too. */
export async function study(kind: string, body: StudyRequest, signal: AbortSignal, progress: (done: number, total: number) => void): Promise<StudyAnswer> {
  const response = await fetch("/api/studies/" + kind, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body), signal });
  if (!response.ok || !response.body) {
    const problem = (await response.json().catch(() => ({}))) as { detail?: string };
    throw new Trouble(response.status, problem.detail ?? response.statusText);
  }
  const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
  let rest = "";
  for (;;) {
    const { done, value } = await reader.read();
    if (done) throw new Trouble(0, "The program ended before the answer came.");
    rest += value;
    const events = rest.split("\n\n");
    rest = events.pop() ?? "";
    for (const e of events) {
      const name = /^event: (\w+)$/m.exec(e)?.[1];
      const data = /^data: (.*)$/m.exec(e)?.[1];
      if (!name || !data) continue;
      const told: unknown = JSON.parse(data);
      if (name === "answer") return told as StudyAnswer;
      if (name === "failed") throw new Trouble(422, (told as { detail: string }).detail);
      const p = told as { done: number; total: number };
      progress(p.done, p.total);
    }
  }
}

export type Options = Pick<StudyRequest, "carry" | "winters" | "choices">;
export const request = (name: string, text: string, view: View, options: Options): StudyRequest => ({ name, text, ...view, ...options });
