// Where things lie on pictures that the program drew: what is under the pointer, and how it is marked.
import type { Cells } from "./client";

export type Point = [number, number];

/** The hour whose cell is at or nearest to a point of the picture; -1 far from all. */
export function hourAt(c: Cells, hours: number, x: number, y: number): number {
  const rows = Math.ceil((hours + c.lead) / c.columns);
  const column = Math.floor((x - c.x) / c.width);
  const row = Math.floor((y - c.y) / c.height);
  if (column < -2 || column > c.columns + 1 || row < -2 || row > rows + 1) return -1;
  const within = (v: number, most: number) => Math.max(0, Math.min(most, v));
  return within(within(row, rows - 1) * c.columns + within(column, c.columns - 1) - c.lead, hours - 1);
}

/** The mark of an hour: a line where all hours are in one row, else its cell. */
export function markOf(c: Cells, hour: number): string {
  const k = hour + c.lead;
  const x = c.x + (k % c.columns) * c.width;
  const y = c.y + Math.floor(k / c.columns) * c.height;
  if (c.columns > 24) return `M${x + c.width / 2} ${c.y}v${c.height}`;
  return `M${x - 1} ${y - 1}h${c.width + 2}v${c.height + 2}h${-c.width - 2}z`;
}

/** The part at a point: a line within eight pixels, else the last drawn area that holds it; -1 where there is none. */
export function partAt(outlines: Point[][], x: number, y: number): number {
  let best = -1;
  let near = 8;
  outlines.forEach((o, i) => {
    const [a, b] = o;
    if (o.length !== 2 || !a || !b) return;
    const d = distance(a, b, x, y);
    if (d < near) [best, near] = [i, d];
  });
  if (best >= 0) return best;
  for (let i = outlines.length - 1; i >= 0; i--) if (holds(outlines[i] ?? [], x, y)) return i;
  return -1;
}

function distance([ax, ay]: Point, [bx, by]: Point, x: number, y: number): number {
  const [dx, dy] = [bx - ax, by - ay];
  const t = Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
  return Math.hypot(x - ax - t * dx, y - ay - t * dy);
}

function holds(ring: Point[], x: number, y: number): boolean {
  let inside = false;
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length] ?? [ax, ay];
    if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) inside = !inside;
  });
  return inside && ring.length > 2;
}

/** A day some days later, as days are asked for, kept within first and last. */
export function later(day: string, by: number, first: string, last: string): string {
  const to = new Date(Date.parse(day + "T00:00:00Z") + by * 86400000).toISOString().slice(0, 10);
  return to < first ? first : to > last ? last : to;
}
