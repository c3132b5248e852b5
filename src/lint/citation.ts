/** Where a rule comes from: a clause of a published document, or the trade's habit. */
export type Citation =
  | {
      readonly document: string;
      readonly clause: string;
      /** Nobody has looked the clause up. */
      readonly fromMemory?: boolean;
    }
  | { readonly practice: string };

/** Whether a value from plain JavaScript is one. */
export function isCitation(value: unknown): value is Citation {
  if (typeof value !== 'object' || value === null) return false;
  const { document, clause: where, practice } = value as Readonly<Record<string, unknown>>;
  return typeof practice === 'string' || (typeof document === 'string' && typeof where === 'string');
}

/** A clause: `clause('RFC 1112', '6.4')`. */
export function clause(document: string, where: string): Citation {
  return { document, clause: where };
}

/** A clause that nobody has looked up, or not by its number. */
export function clauseFromMemory(document: string, where: string): Citation {
  return { document, clause: where, fromMemory: true };
}

/** A habit of the trade without a published source. */
export function commonPractice(what: string): Citation {
  return { practice: what };
}

/** One line for people: `RFC 1112 §6.4`, `ST 2022-7 §6 (from memory)`, `trade practice: one port takes one cable`. */
export function formatCitation(citation: Citation): string {
  if ('practice' in citation) return `trade practice: ${citation.practice}`;
  const { document, clause: where, fromMemory } = citation;
  const numbered = /^[\dA-Z.-]+\d/.test(where) || /^\d/.test(where);
  return `${document}${numbered ? ` §${where}` : `, ${where}`}${fromMemory === true ? ' (from memory)' : ''}`;
}
