/** What a switch runs against loops: a word, or with what it is set to. */
import type { RawSpanningTree, RawSwitch } from '../../read/raw-plan.js';
import type { Document } from '../../source/document.js';
import type { Origin, SpanningTreeSettings } from '../types.js';
import { originOf, type ResolveContext } from './context.js';

export function resolveTree(
  document: Document,
  raw: RawSwitch['spanningTree'],
  origin: Origin,
  context: ResolveContext,
): SpanningTreeSettings | undefined {
  if (raw === undefined) return undefined;
  const { mode, priority, mac, method, bpdus }: RawSpanningTree = typeof raw === 'string' ? { mode: raw } : raw;
  return {
    mode,
    priority,
    mac: context.mac(typeof raw === 'string' ? origin : originOf(document, raw), 'mac', mac),
    method,
    bpdus,
  };
}
