/** Slips of whoever writes a plan: one value of a tree mistyped, copied from beside, swapped or left out. */

/** Numbers from 0 up to below a bound, from a seed (a linear congruential generator). */
export function seeded(seed: number): (below: number) => number {
  let state = seed >>> 0;
  return (below) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 4294967296) * below);
  };
}

interface Leaf {
  readonly holder: Record<string | number, unknown>;
  readonly key: string | number;
}

/** Makes one slip in a tree; says where, or undefined where it changed nothing. */
export function slip(tree: unknown, random: (below: number) => number): string | undefined {
  const leaves: Leaf[] = [];
  collect(tree, leaves);
  const leaf = leaves[random(leaves.length)];
  if (leaf === undefined) return undefined;
  const { holder, key } = leaf;
  const was = holder[key];
  const alike = leaves.filter((one) => one.key === key && typeof one.holder[one.key] === typeof was);
  const other = alike[random(alike.length)];
  switch (random(4)) {
    case 0:
      if (other === undefined) return undefined;
      holder[key] = other.holder[other.key];
      break;
    case 1:
      if (other === undefined) return undefined;
      [holder[key], other.holder[other.key]] = [other.holder[other.key], was];
      break;
    case 2:
      if (Array.isArray(holder)) holder.splice(Number(key), 1);
      // eslint-disable-next-line @typescript-eslint/no-dynamic-delete
      else delete holder[key];
      return `${String(key)} left out (${JSON.stringify(was)})`;
    default:
      holder[key] = mistyped(was, random);
  }
  const now = holder[key];
  return now === was ? undefined : `${String(key)}: ${JSON.stringify(was)} is ${JSON.stringify(now)}`;
}

/** A digit that is another one. */
function mistyped(value: unknown, random: (below: number) => number): unknown {
  if (typeof value === 'boolean') return !value;
  if (typeof value === 'number') return Number(anotherDigit(String(value), random));
  return typeof value === 'string' ? anotherDigit(value, random) : value;
}

function anotherDigit(text: string, random: (below: number) => number): string {
  const places = [...text.matchAll(/\d/g)].map(({ index }) => index);
  const at = places[random(Math.max(1, places.length))];
  return at === undefined ? text : `${text.slice(0, at)}${random(9) + 1}${text.slice(at + 1)}`;
}

function collect(value: unknown, leaves: Leaf[]): void {
  if (typeof value !== 'object' || value === null) return;
  const holder = value as Record<string | number, unknown>;
  for (const name of Object.keys(holder)) {
    const key = Array.isArray(value) ? Number(name) : name;
    const inner = holder[key];
    if (typeof inner === 'object') collect(inner, leaves);
    else leaves.push({ holder, key });
  }
}
