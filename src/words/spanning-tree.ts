/** What to state of a spanning tree that is assumed. */
import type { TreeDoubt } from '../model/network/index.js';

export function treeDoubtWords(doubt: TreeDoubt): string {
  return DOUBTS[doubt];
}

const DOUBTS: Readonly<Record<TreeDoubt, string>> = {
  mode: 'state `spanningTree` of all its switches',
  instances:
    'MSTP is judged as one tree for all VLANs where not all its switches state `mstp` with the same `instances`',
  joinedInstances: 'VLANs of several MSTP instances are joined, and judged by the tree of the first',
  address: 'state a `priority` of its switches, or their bridge addresses as `mac`',
  rate: 'state the rates of its links',
  method: 'state by which `method` its switches count path costs',
};
