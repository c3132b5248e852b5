/**
 * The candidate closest to `text`, or undefined when none is close enough to be a likely slip of the pen
 * (more than a third of its letters differ). Ties go to the candidate listed first.
 */
export function nearest(text: string, candidates: Iterable<string>): string | undefined {
  return allNearest(text, candidates)[0];
}

/**
 * The one candidate that `text` is a single slip of the pen away from: a letter added, left out, another one, or two
 * swapped. Undefined where there is none, and where there are several.
 */
export function nearestSlip(text: string, candidates: Iterable<string>): string | undefined {
  const [only, ...others] = allNearest(text, candidates).filter(
    (one) => editDistance(text.toLowerCase(), one.toLowerCase(), 1) <= 1,
  );
  return others.length === 0 ? only : undefined;
}

/** Every candidate that is as close as the closest, in their order; none where none is close enough. */
export function allNearest(text: string, candidates: Iterable<string>): readonly string[] {
  let best: string[] = [];
  let bestDistance = Math.max(1, Math.floor(text.length / 3)) + 1;
  const folded = text.toLowerCase();
  const letters = lettersOf(folded);
  for (const candidate of candidates) {
    if (Math.abs(candidate.length - text.length) > bestDistance) continue;
    const other = candidate.toLowerCase();
    if (lettersApart(letters, lettersOf(other)) > bestDistance) continue;
    const distance = editDistance(folded, other, bestDistance);
    if (distance < bestDistance) {
      best = [candidate];
      bestDistance = distance;
    } else if (distance === bestDistance && best.length > 0) best.push(candidate);
  }
  return best;
}

/** Which letters a text has, a bit each; letters that share a bit are taken for one. */
function lettersOf(text: string): number {
  let letters = 0;
  for (let i = 0; i < text.length; i++) letters |= 1 << (text.charCodeAt(i) & 31);
  return letters;
}

/** A lower bound of the edits between two texts: one edit brings in one letter at most, and takes one out. */
function lettersApart(a: number, b: number): number {
  return Math.max(bitsOf(a & ~b), bitsOf(b & ~a));
}

function bitsOf(word: number): number {
  let bits = 0;
  for (let rest = word; rest !== 0; rest &= rest - 1) bits++;
  return bits;
}

/**
 * Edits (insert, delete, replace, swap of neighbours) between two short strings; more than `most` where there are more.
 * Only cells so near the diagonal that they may lead to `most` edits are filled (E. Ukkonen, "Algorithms for approximate
 * string matching", Information and Control 64, 1985).
 */
function editDistance(a: string, b: string, most: number): number {
  const beyond = most + 1;
  let before = new Int32Array(b.length + 1);
  let last = Int32Array.from({ length: b.length + 1 }, (_, column) => column);
  let row = new Int32Array(b.length + 1);
  let leastBefore = 0;
  for (let i = 1; i <= a.length; i++) {
    row.fill(beyond);
    row[0] = i;
    let least = i;
    for (let j = Math.max(1, i - most); j <= Math.min(b.length, i + most); j++) {
      const same = a.charCodeAt(i - 1) === b.charCodeAt(j - 1);
      let cost = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + (same ? 0 : 1));
      if (i > 1 && j > 1 && a.charCodeAt(i - 1) === b.charCodeAt(j - 2) && a.charCodeAt(i - 2) === b.charCodeAt(j - 1))
        cost = Math.min(cost, (before[j - 2] ?? 0) + 1);
      row[j] = cost;
      least = Math.min(least, cost);
    }
    // A swap may come from the row before the last.
    if (least > most && leastBefore > most) return beyond;
    leastBefore = least;
    [before, last, row] = [last, row, before];
  }
  return last[b.length] ?? 0;
}
