/** The name of a file that is saved of a plan: "larch-hollow-winter-sheet.svg". */
export const fileOf = (plan: string, what: string): string => [plan.replace(/\.ya?ml$/, ""), what].filter(Boolean).join("-");

/** save gives a file to whoever sits at the page. */
export function save(name: string, data: Blob): void {
  const a = document.createElement("a");
  a.href = URL.createObjectURL(data);
  a.download = name;
  a.click();
  setTimeout(() => URL.revokeObjectURL(a.href), 10000);
}
