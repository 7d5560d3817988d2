// The program's interface, as typed calls. Nothing else is asked, and nothing of others.
import createClient from "openapi-fetch";
import type { components, paths } from "./interface";

export type Look = components["schemas"]["Look"];
export type Field = components["schemas"]["Field"];
export type Finding = components["schemas"]["Finding"];
export type Change = components["schemas"]["Change"];
export type Drag = components["schemas"]["Drag"];
export type Done = components["schemas"]["Done"];
export type Act = components["schemas"]["Act"];
export type Grip = components["schemas"]["Grip"];
export type Section = components["schemas"]["Section"];
export type Picture = components["schemas"]["Picture"];
export type WinterAnswer = components["schemas"]["WinterAnswer"];
export type BandAnswer = components["schemas"]["BandAnswer"];
export type HourPicture = components["schemas"]["HourPicture"];
export type PartsPicture = components["schemas"]["PartsPicture"];
export type HeatBooks = components["schemas"]["HeatBooks"];
export type Cells = components["schemas"]["Cells"];
export type Table = components["schemas"]["Table"];
export type PlanText = components["schemas"]["PlanText"];
export type PlanEntry = components["schemas"]["PlanEntry"];
export type Word = components["schemas"]["Word"];

const client = createClient<paths>({ baseUrl: "" });

/** Trouble is what kept an answer from coming: status 0 where the program was not reached. */
export class Trouble extends Error {
  constructor(
    readonly status: number,
    message: string,
    readonly disk?: PlanText,
    readonly fields: Record<string, string> = {}, // what is wrong with what was typed, by the field that it is of
  ) {
    super(message);
  }
}

type Outcome<T> = { data?: T; error?: unknown; response: Response };

async function answered<T>(asked: Promise<Outcome<T>>): Promise<T> {
  let outcome: Outcome<T>;
  try {
    outcome = await asked;
  } catch (e) {
    if (e instanceof DOMException && e.name === "AbortError") throw e;
    throw new Trouble(0, "The program does not answer. Is it still running?");
  }
  if (outcome.data !== undefined) return outcome.data;
  const problem = (outcome.error ?? {}) as { detail?: string; disk?: PlanText; errors?: { location?: string; message?: string }[] };
  const fields = Object.fromEntries((problem.errors ?? []).filter((e) => e.location).map((e) => [e.location?.replace(/^body\./, ""), e.message ?? ""]));
  throw new Trouble(outcome.response.status, problem.detail ?? outcome.response.statusText, problem.disk, fields);
}

export type View = { units: "" | "SI" | "US"; width: number };

export const words = () => answered(client.GET("/api/words"));
export const plans = () => answered(client.GET("/api/plans"));
export const readPlan = (name: string) => answered(client.GET("/api/plans/{name}", { params: { path: { name } } }));
export const writePlan = (name: string, text: string, revision: string) =>
  answered(client.PUT("/api/plans/{name}", { params: { path: { name } }, body: { text, revision } }));
export type Hidden = NonNullable<components["schemas"]["LookRequest"]["hide"]>[number];
export type Moves = { changes?: Change[]; drags?: Drag[]; acts?: Done[]; pictures?: string[]; azimuth?: number; hide?: Hidden[]; snow_m?: number; ground_snow_m?: number };
export const look = (name: string, text: string, moves: Moves, view: View) => answered(client.POST("/api/look", { body: { name, text, ...moves, ...view } }));
export const winter = (name: string, text: string, view: View, brief: boolean) => answered(client.POST("/api/winter", { body: { name, text, brief, ...view } }));
export const band = (name: string, text: string, view: View, signal: AbortSignal) => answered(client.POST("/api/band", { body: { name, text, ...view }, signal }));

// Details of a winter, which the program keeps: nothing is computed again.
export type Detail = { from?: string; until?: string; place?: string; columns?: boolean };
export const spell = (name: string, text: string, view: View, of: Detail) => answered(client.POST("/api/winter/spell", { body: { name, text, ...view, ...of } }));
export const sheet = (name: string, text: string, view: View, of: Detail) => answered(client.POST("/api/winter/sheet", { body: { name, text, ...view, ...of } }));
export const parts = (name: string, text: string, view: View) => answered(client.POST("/api/winter/section", { body: { name, text, ...view } }));
export const heat = (name: string, text: string, view: View, of: Detail) => answered(client.POST("/api/winter/heat", { body: { name, text, ...view, ...of } }));
export type FileOf = components["schemas"]["FileRequest"]["of"];
export const csv = (name: string, text: string, view: View, of: FileOf, days: Detail) =>
  answered(client.POST("/api/winter/csv", { body: { name, text, of, ...view, ...days }, parseAs: "blob" }) as unknown as Promise<Outcome<Blob>>);
export const worth = (name: string, text: string, path: string, view: View, signal: AbortSignal) =>
  answered(client.POST("/api/worth", { body: { name, text, path, ...view }, signal }));
export type SunAnswer = components["schemas"]["SunAnswer"];
export const sunAt = (name: string, text: string, at: { x_m?: number; z_m?: number; month: number; day: number }, view: View) =>
  answered(client.POST("/api/sun", { body: { name, text, ...at, ...view } }));
export type WaterAnswer = components["schemas"]["WaterAnswer"];
export type WaterScheme = components["schemas"]["WaterScheme"];
export type WaterValve = components["schemas"]["WaterValve"];
export type WaterYears = components["schemas"]["WaterYears"];
export const water = (name: string, text: string, rain: string, view: View) => answered(client.POST("/api/water", { body: { name, text, rain, ...view } }));
export const waterYears = (name: string, text: string, rain: string, view: View) => answered(client.POST("/api/water/years", { body: { name, text, rain, ...view } }));
export type DrawAnswer = components["schemas"]["DrawAnswer"];
export type Drawn = { volume: string; on: string; bed: string };
export const waterDraw = (name: string, text: string, drawn: Drawn, view: View, signal: AbortSignal) => answered(client.POST("/api/water/draw", { body: { name, text, ...drawn, ...view }, signal }));
export type DrillsAnswer = components["schemas"]["DrillsAnswer"];
export type DrillFault = components["schemas"]["DrillFault"];
export type Joints = components["schemas"]["Joints"];
export type DrillAnswer = components["schemas"]["DrillAnswer"];
export type Tried = Omit<components["schemas"]["DrillRequest"], "$schema" | "name" | "text" | "units" | "width">;
export const drills = (name: string, text: string, view: View) => answered(client.POST("/api/drills", { body: { name, text, ...view } }));
export const tryDrill = (name: string, text: string, tried: Tried, view: View, signal: AbortSignal) => answered(client.POST("/api/drills/try", { body: { name, text, ...tried, ...view }, signal }));
export const lookAtChoices = (body: components["schemas"]["ChoicesRequest"]) => answered(client.POST("/api/choices", { body }));
export const differences = (name: string, before: string, after: string) => answered(client.POST("/api/differences", { body: { name, before, after } }));
export const drawnBand = (name: string, text: string, view: View, houses: number, signal: AbortSignal) => answered(client.POST("/api/band/drawn", { body: { name, text, houses, ...view }, signal }));
