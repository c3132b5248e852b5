/** What is free to offer: groups, addresses, blocks, VLAN ids? */
export {
  type Advisor,
  type Destination,
  type DestinationKind,
  destinationsOf,
  type FreeMoves,
  freeMovesOf,
  groupRangesOf,
  type Moves,
  movesOf,
} from './destinations.js';
export { createFreeBlocks } from './free-blocks.js';
export { freeStretch } from './free-stretch.js';
export { createProposals, type Proposals } from './proposals.js';
export { secondLegGroup } from './second-leg.js';
