import type { Field } from "./client";

const months = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];

/**
 * labels are what the values of a plan are called on the page, by path: items of lists by their names or what they are made of, monthly values by their months, all else as the plan file calls it.
 */
export function labels(fields: Field[]): Map<string, string> {
  const names = new Map<string, string>();
  const monthly = new Set<string>();
  for (const f of fields) {
    const item = /^(.*\[\d+\])\.name$/.exec(f.path)?.[1];
    if (item) names.set(item, f.text);
    const layer = /^(.*\[\d+\])\.material$/.exec(f.path)?.[1];
    if (layer) names.set(layer, f.text.replaceAll("_", " "));
    const twelfth = /^(.*)\[11\]$/.exec(f.path)?.[1];
    if (twelfth) monthly.add(twelfth);
  }
  return new Map(fields.map((f) => [f.path, label(f.path, names, monthly)]));
}

function label(path: string, names: Map<string, string>, monthly: Set<string>): string {
  const words: string[] = [];
  let at = "";
  for (const step of path.match(/[^.[\]]+|\[\d+\]/g) ?? []) {
    const number = /^\[(\d+)\]$/.exec(step)?.[1];
    if (number === undefined) {
      at += (at ? "." : "") + step;
      words.push(step.replaceAll("_", " "));
      continue;
    }
    const list = at;
    at += step;
    if (monthly.has(list)) words.push(months[Number(number)] ?? step);
    else words.splice(-1, 1, names.get(at) ?? `${words.at(-1) ?? ""} ${Number(number) + 1}`);
  }
  const heading = /^[^.[]+/.exec(path)?.[0].replaceAll("_", " ");
  return (words.length > 1 && words[0] === heading ? words.slice(1) : words).join(", ");
}
