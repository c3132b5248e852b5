/** Who takes streams from whom: what is usual, and what a line says of it: `multiviewers: cameras, graphics; replay: none`. */
import { listNames } from '../../words/lists.js';
import type { AnsweredArea, Taking } from './answers.js';
import { COMMON_KINDS, MATTER, type CommonKind } from './common-kinds.js';
import { kindCalled, unknownKind } from './read-crates.js';

/** What kinds that stand somewhere usually take. */
export function usualTaking(areas: readonly AnsweredArea[]): Taking {
  const present = presentKinds(areas);
  const found = new Map<CommonKind, readonly CommonKind[]>();
  for (const taker of present) {
    const sources = taker.takesFrom.flatMap((name) => present.filter((kind) => kind.name === name));
    if (sources.length > 0) found.set(taker, sources);
  }
  return found;
}

/** `vision mixers from cameras and graphics; intercom panels from intercom matrices`. */
export function takingText(taking: Taking): string {
  return [...taking]
    .map(([taker, sources]) => `${taker.plural} from ${listNames(sources.map(({ plural }) => plural))}`)
    .join('; ');
}

/** The usual with what a line changes of it, or what to write instead. */
export function readTaking(
  line: string,
  usual: Taking,
  areas: readonly AnsweredArea[],
): { readonly taking: Taking } | { readonly instead: string } {
  const present = presentKinds(areas);
  const taking = new Map(usual);
  for (const part of line.split(';').map((text) => text.trim())) {
    if (part === '') continue;
    const [, who, what] = /^([^:]+):([^:]*)$/.exec(part) ?? [];
    if (who === undefined || what === undefined)
      return { instead: 'write who takes from whom, as `multiviewers: cameras, graphics; replay servers: none`' };
    const taker = found(who, present);
    if ('instead' in taker) return taker;
    const sources = new Set<CommonKind>();
    for (const words of what.split(/,| and /i).map((text) => text.trim())) {
      if (words === '' || /^(?:none|nothing|-)$/i.test(words)) continue;
      const source = found(words, present);
      if ('instead' in source) return source;
      if (source === taker)
        return { instead: `${taker.plural} take nothing of each other here; that goes into the file` };
      if (!canTake(taker, source)) return { instead: `${taker.plural} can take nothing that ${source.plural} send` };
      sources.add(source);
    }
    if (sources.size === 0) taking.delete(taker);
    else taking.set(taker, [...sources]);
  }
  return { taking };
}

function found(words: string, present: readonly CommonKind[]): CommonKind | { readonly instead: string } {
  const kind = kindCalled(words);
  if (kind === undefined) return { instead: unknownKind(words.trim()) };
  return present.includes(kind) ? kind : { instead: `no ${kind.plural} stand in any area` };
}

function canTake({ inputs }: CommonKind, { senders }: CommonKind): boolean {
  return senders.some(({ format }) => inputs.some(({ takes }) => takes === MATTER[format]));
}

function presentKinds(areas: readonly AnsweredArea[]): readonly CommonKind[] {
  const present = new Set(areas.flatMap(({ crates = [] }) => crates.map(({ kind }) => kind)));
  return COMMON_KINDS.filter((kind) => present.has(kind));
}
