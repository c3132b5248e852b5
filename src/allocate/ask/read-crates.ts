/** Reads what stands in an area: `4 cameras, 2 stage boxes`. */
import { nearest } from '../../collections/nearest.js';
import type { Crate } from './answers.js';
import { COMMON_KINDS, type CommonKind } from './common-kinds.js';

const MOST_OF_A_KIND = 200;

/** Counts a kind once, however often it is named; or what to write instead. */
export function readCrates(line: string): { readonly crates: readonly Crate[] } | { readonly instead: string } {
  if (/^(none|nothing|0|-)$/i.test(line)) return { crates: [] };
  const counts = new Map<CommonKind, number>();
  for (const part of line.split(/,| and /i).map((text) => text.trim())) {
    if (part === '') continue;
    const [, digits = '1', words = ''] = /^(?:(\d{1,6})\s*x?\s+)?(.+)$/i.exec(part) ?? [];
    if (/^switch(?:e?s)?$/.test(fold(words))) return { instead: 'leave switches out here: they are asked for later' };
    const kind = kindCalled(words);
    if (kind === undefined) return { instead: unknownKind(words) };
    const count = (counts.get(kind) ?? 0) + Number(digits);
    if (count > MOST_OF_A_KIND)
      return { instead: `write no more than ${MOST_OF_A_KIND} ${kind.plural}; more go into the file` };
    counts.set(kind, count);
  }
  return { crates: [...counts].flatMap(([kind, count]) => (count === 0 ? [] : [{ kind, count }])) };
}

/** `Stage Boxes`, `stage-boxes` and `stageboxes` are one kind. */
export function kindCalled(words: string): CommonKind | undefined {
  return COMMON_KINDS.find(({ said }) => said.includes(fold(words)));
}

export function unknownKind(words: string): string {
  const spellings = COMMON_KINDS.flatMap(({ said }) => said);
  const close = nearest(fold(words).slice(0, 40), spellings);
  const meant = COMMON_KINDS.find(({ said }) => close !== undefined && said.includes(close));
  if (meant !== undefined) return `\`${words}\` is no kind asked for here; did you mean ${meant.plural}?`;
  const names = COMMON_KINDS.map(({ plural }) => plural).join(', ');
  return `write counts and kinds, as \`4 cameras, 2 stage boxes\`; the kinds are ${names}. Others go into the file`;
}

function fold(text: string): string {
  return text.toLowerCase().replace(/[^a-z0-9]+/g, '');
}
