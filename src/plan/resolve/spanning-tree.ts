/** What a switch runs against loops: a word, or with what it is set to. */
import type { RawSwitch } from '../../read/raw-plan.js';
import type { RawSpanningTree } from '../../read/raw-spanning-tree.js';
import type { Document } from '../../source/document.js';
import type { Origin, SpanningTreeSettings, Vlan } from '../types.js';
import { originOf, type ResolveContext } from './context.js';

/** `vlansOf` resolves the list of VLANs at an entry. */
export function resolveTree(
  document: Document,
  raw: RawSwitch['spanningTree'],
  origin: Origin,
  context: ResolveContext,
  vlansOf: (origin: Origin, texts: readonly string[]) => readonly Vlan[],
): SpanningTreeSettings | undefined {
  if (raw === undefined) return undefined;
  const { mode, priority, mac, method, bpdus, instances }: RawSpanningTree =
    typeof raw === 'string' ? { mode: raw } : raw;
  return {
    mode,
    priority,
    mac: context.mac(typeof raw === 'string' ? origin : originOf(document, raw), 'mac', mac),
    method,
    bpdus,
    instances: instances?.map((own, index) => ({
      number: own.number ?? index + 1,
      vlans: vlansOf(originOf(document, own), own.vlans),
      priority: own.priority,
    })),
  };
}
