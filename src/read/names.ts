/** Headroom below the 200 characters a name may have, for the number that keeps two names apart. */
const LONGEST_NAME = 180;

/** Text of a file as a name of the plan: no control characters, no slash, no blanks around; may come out empty. */
export function toName(text: string): string {
  return text
    .replace(/[\u0000-\u001f\u007f-\u009f]+/g, ' ')
    .replaceAll('/', '-')
    .trim()
    .slice(0, LONGEST_NAME)
    .trim();
}

/** Keeps names apart: the second `video` becomes `video 2`. */
export function createUniqueNames(): (name: string) => string {
  const taken = new Set<string>();
  const counts = new Map<string, number>();
  return (name) => {
    let candidate = name;
    let count = counts.get(name) ?? 1;
    while (taken.has(candidate)) candidate = `${name} ${++count}`;
    counts.set(name, count);
    taken.add(candidate);
    return candidate;
  };
}
