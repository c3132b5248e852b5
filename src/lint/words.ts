/**
 * `a, b and c`; past `most` names, `a, b, c and 397 more`.
 */
export function listNames(names: readonly string[], most = 6): string {
  if (names.length <= 1) return names[0] ?? '';
  if (names.length > most) return `${names.slice(0, most).join(', ')} and ${names.length - most} more`;
  return `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`;
}
