import { words, type Word } from "./client";

/** Words are what words of the trade mean, asked for once. While they are not there, or the program is away, words stand unexplained. */
class Words {
  list = $state.raw<Word[]>([]);

  constructor() {
    words().then(
      (all) => (this.list = all.words),
      () => undefined,
    );
  }

  /** pattern finds any of the words, also where more than one is spoken of; the longest first. */
  readonly pattern = $derived.by(() => {
    const each = this.list.map((w) => w.word.replace(/ \(.*\)$/, "")).sort((a, b) => b.length - a.length);
    return each.length ? new RegExp(`\\b(${each.map((w) => w.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")).join("|")})(?:s|es)?\\b`, "gi") : null;
  });

  of(word: string): Word | undefined {
    const wanted = word.toLowerCase();
    return this.list.find((w) => w.word.replace(/ \(.*\)$/, "") === wanted);
  }

  /** in parts a text at the words that are explained, each where it stands first. */
  in(text: string): { text: string; word?: Word }[] {
    const parts: { text: string; word?: Word }[] = [];
    const told = new Set<Word>();
    let from = 0;
    for (const m of this.pattern ? text.matchAll(this.pattern) : []) {
      const word = this.of(m[1] ?? "");
      if (!word || told.has(word)) continue;
      told.add(word);
      if (m.index > from) parts.push({ text: text.slice(from, m.index) });
      parts.push({ text: m[0], word });
      from = m.index + m[0].length;
    }
    if (from < text.length) parts.push({ text: text.slice(from) });
    return parts;
  }
}

export const glossary = new Words();
