/** Which links and ports carry each stream, who queries, how full are they, and what does a failure take? */
export {
  type AggregateUse,
  aggregateUses,
  type PassingStream,
  type UnlikeMembers,
  unlikeMembers,
} from './aggregates.js';
export { type Arrivals, arrivalsAt, type Flooding } from './arrivals.js';
export { type Assumption, findAssumptions } from './assumptions.js';
export { arrivingAt, type BlindSharing, blindSharings } from './blind-sharing.js';
export { type BlockedWay, blockedWays } from './blocked-ways.js';
export { type Chosen, type ChosenLoad, sureBps } from './chosen-load.js';
export type { WorstChoice } from './worst-choice.js';
export { type CommonQuerier, commonQueriers, type PlannedQuerier } from './common-queriers.js';
export {
  type Conduct,
  type FloodReason,
  keyAssumed,
  type KnownQuerier,
  type NodeConduct,
  protocolOf,
} from './conduct.js';
export { type Crossing, crossingsOf } from './crossings.js';
export type { CutTree } from './cut-tree.js';
export type { Element, ElementKind } from './elements.js';
export { buildFailures, type Fading, type Failure, type Failures, type Reception } from './failures.js';
export { type Fates, fatesAfter, type LegFate, type ReceptionFate } from './fates.js';
export { type Flood, type FloodedHost, floodOfAll, floodOver, wantedByHost } from './flood.js';
export { type FloodedBystanders, floodedBystanders } from './flooded-hosts.js';
export {
  type MixedMethods,
  mixedMethods,
  type OpenLoop,
  openLoops,
  stormGrounds,
  type RootByAddress,
  rootsByAddress,
  type SideBySide,
  sideBySide,
} from './tree-faults.js';
export { buildNetwork, type Flow, type Network, type Onward, type Reached } from './flows.js';
export type { ByHand, Ways } from './by-hand.js';
export type { CarryReason } from './carry-reason.js';
export { type Carried, carriedBy, createArrival, isUnasked } from './forward.js';
export { type Carriage, type FullLink, fullLinks, type Relief, reliefOf, type Room, roomFor } from './full-links.js';
export {
  createFillsPorts,
  type FloodedPorts,
  floodedPorts,
  type FullPort,
  fullPorts,
  PORT_SHARE,
  type PortGround,
} from './full-ports.js';
export { type SlowRate, slowRates, tooSlow } from './slow-rates.js';
export { carriersOf, type ForwardingOf, type ForwardingSegment, planeOf, type Regrounded } from './ground.js';
export {
  buildGroupSegments,
  type Candidate,
  electionWinner,
  type GroupSegment,
  hostsIn,
  type Protocol,
  type Unqueried,
  type VlanSetting,
  whileUnqueried,
} from './group-segments.js';
export { type ChosenEntries, type TableUse, tableUses } from './group-tables.js';
export { buildHeadroom, type Headroom } from './headroom.js';
export { joinedSource, ownVersion, speaksNoSources } from './join-filter.js';
export { legsKeptApart } from './kept-apart.js';
export { assumedRoot, busierWay, hangsOnAssumedTree, type LinkUse, type Span } from './link-use.js';
export { buildLoad, type LinkLoad, type Load, type PortLoad, type RateOf } from './load.js';
export { loneQuerier, type LoneQuerier, servingSeveralLegs } from './lone-querier.js';
export type { Gone, Layout, LoopedPart, TreeDoubt } from './loops.js';
export type { Losses, Trial } from './losses.js';
export { hasSourceSpecificGroup, type OldHost, oldHosts, type OldVersion, oldVersions } from './old-versions.js';
export {
  largePackets,
  type LargePackets,
  type NarrowWay,
  narrowWays,
  type UnsaidMtu,
  unsaidMtus,
} from './packet-sizes.js';
export { type PartedAggregate, partedAggregates } from './parted-aggregates.js';
export { type AnyLeg, type PlaceFact, placeGap } from './place-gap.js';
export { mayWin, type QuerierFault, querierFault } from './querier-faults.js';
export { type QuerierChange, querierChanges } from './querier-changes.js';
export { type QuerierPlace, querierPlaces } from './querier-places.js';
export { type Carrying, findRateless, type Rateless } from './rateless.js';
export type { Removal } from './remains.js';
export { type AfterLoss, rerouted, type Rerouted } from './rerouted.js';
export { choosesOpenly, openCauses, type OpenCause, openChoices, type OpenLink, openLinks } from './open-choices.js';
export { type RoutedReception, routedReceptions } from './routed-receptions.js';
export { routersApart } from './router-feet.js';
export {
  apartRouters,
  type ApartRouters,
  astrayDesignated,
  type AstrayDesignated,
  type Concerned,
  noNeighbours,
  type NoNeighbour,
  shortLived,
  type ShortLived,
} from './routing-faults.js';
export { type SharedWay, sharedWays } from './shared-ways.js';
export { buildSegments, type Edge, linkRate, rateOfLinks, type Segment } from './segment.js';
export {
  type SettingDifference,
  settingDifferences,
  type SettingKey,
  type SettingValue,
  type SetValue,
} from './setting-differences.js';
export { type SharedEdge, sharedEdges } from './shared-edges.js';
export { atRisk, type Fate, fedOnlyBy, type LonePoint, lonePoints, sharedCauses, streamsOf } from './shared-fate.js';
export { type Stuck, stuckCrossings, type Why } from './stuck-crossings.js';
export { OLD_VERSION, type TimerFault, timerFaults } from './timer-faults.js';
export {
  LONGEST_QUERY_INTERVAL_S,
  LONGEST_RESPONSE_S,
  membershipInterval,
  otherQuerierPresentInterval,
  reportedAmong,
  responseAmong,
  type Timers,
  timersOf,
} from './timers.js';
export { type Around, type Asking, electedQuerier, type Plane, type Sink } from './plane.js';
export { anyBound, type Unbound, unboundOn } from './unbound.js';
export type { BoxHop, Foot } from './unicast-boxes.js';
export { createUnicastRoutes, type UnicastHop, type UnicastRoute, type UnicastStop } from './unicast-route.js';
export type { Target } from './flow.js';
export { unicastStages, type UnicastStage } from './unicast-flows.js';
export { TREE_SPANS, type TreePace, type TreeTurn, treeTurns } from './tree-turns.js';
export type { Step, Tree } from './tree.js';
export { buildUnrated, type Unrated } from './unrated.js';
export {
  endingEarly,
  type SentElsewhere,
  sentElsewhere,
  type SharedPort,
  sharedPorts,
  type SilentFlood,
  silentFloods,
  type WithoutGateway,
  withoutGateway,
} from './unicast-faults.js';
export type { Branch } from './routing/branches.js';
export type { Chain, Hop, Tie } from './routing/chain.js';
export type { Designated } from './routing/designated.js';
export type { Box, Ground, PlacedFoot } from './routing/feet.js';
export type { Foot as RouterFoot, Router, RouterGraph, Wire } from './routing/graph.js';
export type { Route, Routes, Upstream } from './routing/routes.js';
export type { RoutedWay, Routing, Spot, Stage, View } from './routing/routing.js';
export { anyUnqueried, isForgotten, lasts, type ReceptionLeg, wayOf } from './way.js';
