/** Where a rule comes from: a clause of a published document, or the trade's habit. */
export type Citation = { readonly document: string; readonly clause: string } | { readonly practice: string };

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

/** A habit of the trade without a published source. */
export function commonPractice(what: string): Citation {
  return { practice: what };
}

/** One line for people: `RFC 1112 §6.4`. */
export function formatCitation(citation: Citation): string {
  if ('practice' in citation) return `common practice, no source: ${citation.practice}`;
  return /^[\dA-Z.-]+\d/.test(citation.clause) || /^\d/.test(citation.clause)
    ? `${citation.document} §${citation.clause}`
    : `${citation.document}, ${citation.clause}`;
}
