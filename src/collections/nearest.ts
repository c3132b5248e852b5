/**
 * The candidate closest to `text`, or undefined when none is close enough to be a likely slip of the pen
 * (more than a third of its letters differ). Ties go to the candidate listed first.
 */
export function nearest(text: string, candidates: Iterable<string>): string | undefined {
  return allNearest(text, candidates)[0];
}

/** Every candidate that is as close as the closest, in their order; none where none is close enough. */
export function allNearest(text: string, candidates: Iterable<string>): readonly string[] {
  let best: string[] = [];
  let bestDistance = Math.max(1, Math.floor(text.length / 3)) + 1;
  const folded = text.toLowerCase();
  for (const candidate of candidates) {
    if (Math.abs(candidate.length - text.length) > bestDistance) continue;
    const distance = editDistance(folded, candidate.toLowerCase(), bestDistance);
    if (distance < bestDistance) {
      best = [candidate];
      bestDistance = distance;
    } else if (distance === bestDistance && best.length > 0) best.push(candidate);
  }
  return best;
}

/**
 * Edits (insert, delete, replace, swap of neighbours) between two short strings; more than `most` where there are more.
 * Only cells so near the diagonal that they may lead to `most` edits are filled (E. Ukkonen, "Algorithms for approximate
 * string matching", Information and Control 64, 1985).
 */
function editDistance(a: string, b: string, most: number): number {
  const beyond = most + 1;
  let before: number[] = [];
  let leastBefore = 0;
  let last = Array.from({ length: b.length + 1 }, (_, column) => column);
  for (let i = 1; i <= a.length; i++) {
    const row = new Array<number>(b.length + 1).fill(beyond);
    row[0] = i;
    let least = i;
    for (let j = Math.max(1, i - most); j <= Math.min(b.length, i + most); j++) {
      const same = a[i - 1] === b[j - 1];
      let cost = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        cost = Math.min(cost, (before[j - 2] ?? 0) + 1);
      row[j] = cost;
      least = Math.min(least, cost);
    }
    // A swap may come from the row before the last.
    if (least > most && leastBefore > most) return beyond;
    leastBefore = least;
    before = last;
    last = row;
  }
  return last[b.length] ?? 0;
}
