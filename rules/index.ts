/** Every rule there is, in the order of their names. A test holds this list complete. */
import type { Rule } from '../src/doors/rule.js';
import capacityAggregateUneven from './capacity/aggregate-uneven/rule.js';
import capacityEqualWaysOverload from './capacity/equal-paths-overload/rule.js';
import capacityGroupTableOverflow from './capacity/group-table-overflow/rule.js';
import capacityLinkOverload from './capacity/link-overload/rule.js';
import capacityLinkOverloadAfterFailure from './capacity/link-overload-after-failure/rule.js';
import capacityMixedUdpLimits from './capacity/mixed-udp-limits/rule.js';
import capacityPacketOverMtu from './capacity/packet-over-mtu/rule.js';
import capacityPortOverload from './capacity/port-overload/rule.js';
import capacityStreamOverMember from './capacity/stream-over-member/rule.js';
import capacityWanOverload from './capacity/wan-overload/rule.js';
import delayFrameRateFamilies from './delay/frame-rate-families/rule.js';
import delayLinkOffsetTooShort from './delay/link-offset-too-short/rule.js';
import delayLipSync from './delay/lip-sync/rule.js';
import delayReferenceClocksDiffer from './delay/reference-clocks-differ/rule.js';
import delayRoundTrip from './delay/round-trip/rule.js';
import groupsAssigned from './groups/assigned/rule.js';
import groupsDocumentation from './groups/documentation/rule.js';
import groupsEthernetAlias from './groups/ethernet-alias/rule.js';
import groupsFloods from './groups/floods/rule.js';
import groupsForeignGlop from './groups/foreign-glop/rule.js';
import groupsForeignUnicastPrefix from './groups/foreign-unicast-prefix/rule.js';
import groupsIpv6Flags from './groups/ipv6-flags/rule.js';
import groupsIpv6Scope from './groups/ipv6-scope/rule.js';
import groupsLegMap from './groups/leg-map/rule.js';
import groupsLegsShareGroup from './groups/legs-share-group/rule.js';
import groupsLightingRange from './groups/lighting-range/rule.js';
import groupsLocalControl from './groups/local-control/rule.js';
import groupsNotBound from './groups/not-bound/rule.js';
import groupsNotMulticast from './groups/not-multicast/rule.js';
import groupsOutsideConventions from './groups/outside-conventions/rule.js';
import groupsOutsidePractice from './groups/outside-practice/rule.js';
import groupsProtocolAlias from './groups/protocol-alias/rule.js';
import groupsReservedBlock from './groups/reserved-block/rule.js';
import groupsScopeTop from './groups/scope-top/rule.js';
import groupsTwoSenders from './groups/two-senders/rule.js';
import hostsDuplicateAddress from './hosts/duplicate-address/rule.js';
import hostsDuplicateMac from './hosts/duplicate-mac/rule.js';
import hostsGatewayDiffers from './hosts/gateway-differs/rule.js';
import hostsInDhcpRange from './hosts/in-dhcp-range/rule.js';
import hostsNetworkOrBroadcast from './hosts/network-or-broadcast/rule.js';
import hostsOutsideSubnet from './hosts/outside-subnet/rule.js';
import hostsPrefixDiffers from './hosts/prefix-differs/rule.js';
import hostsPublicAddress from './hosts/public-address/rule.js';
import hostsSpecialPurpose from './hosts/special-purpose/rule.js';
import hostsTwoDefaultGateways from './hosts/two-default-gateways/rule.js';
import hostsTwoInOneSubnet from './hosts/two-in-one-subnet/rule.js';
import hostsUnusableMac from './hosts/unusable-mac/rule.js';
import hostsWrongFamily from './hosts/wrong-family/rule.js';
import hostsWrongVlan from './hosts/wrong-vlan/rule.js';
import igmpFastLeaveSharedPort from './igmp/fast-leave-shared-port/rule.js';
import igmpNoBackupQuerier from './igmp/no-backup-querier/rule.js';
import igmpNoQuerier from './igmp/no-querier/rule.js';
import igmpNoRendezvousPoint from './igmp/no-rendezvous-point/rule.js';
import igmpNoRouterPort from './igmp/no-router-port/rule.js';
import igmpQuerierAddress from './igmp/querier-address/rule.js';
import igmpRendezvousPointRange from './igmp/rendezvous-point-range/rule.js';
import igmpSettingsDiffer from './igmp/settings-differ/rule.js';
import igmpSharedGroupKeyedByGroup from './igmp/shared-group-keyed-by-group/rule.js';
import igmpSnoopingOff from './igmp/snooping-off/rule.js';
import igmpSsmAnyJoin from './igmp/ssm-any-join/rule.js';
import igmpSwitchNotSnooping from './igmp/switch-not-snooping/rule.js';
import igmpTimers from './igmp/timers/rule.js';
import igmpUnregisteredFlood from './igmp/unregistered-flood/rule.js';
import igmpVersionTooOld from './igmp/version-too-old/rule.js';
import igmpVersionUnlikePractice from './igmp/version-unlike-practice/rule.js';
import igmpWrongQuerierWins from './igmp/wrong-querier-wins/rule.js';
import linksAggregateEndsApart from './links/aggregate-ends-apart/rule.js';
import linksAggregateMembersDiffer from './links/aggregate-members-differ/rule.js';
import linksCostMethodsDiffer from './links/cost-methods-differ/rule.js';
import linksLoopWithoutTree from './links/loop-without-tree/rule.js';
import linksMtuDiffers from './links/mtu-differs/rule.js';
import linksNativeDiffers from './links/native-differs/rule.js';
import linksPortShared from './links/port-shared/rule.js';
import linksRateDiffers from './links/rate-differs/rule.js';
import linksRootByAddress from './links/root-by-address/rule.js';
import linksSelfLink from './links/self-link/rule.js';
import linksSideBySide from './links/side-by-side/rule.js';
import linksVlansDiffer from './links/vlans-differ/rule.js';
import planDuplicateName from './plan/duplicate-name/rule.js';
import planJoinWithinRig from './plan/join-within-rig/rule.js';
import planLeftOut from './plan/left-out/rule.js';
import planLookAlikeNames from './plan/look-alike-names/rule.js';
import planNotInKind from './plan/not-in-kind/rule.js';
import planUnknownReference from './plan/unknown-reference/rule.js';
import planUnusedFormat from './plan/unused-format/rule.js';
import planUnusedKind from './plan/unused-kind/rule.js';
import planUnusedNetwork from './plan/unused-network/rule.js';
import planUnusedVlan from './plan/unused-vlan/rule.js';
import planWaiverExpired from './plan/waiver-expired/rule.js';
import planWaiverIdle from './plan/waiver-idle/rule.js';
import portsListedTwice from './ports/listed-twice/rule.js';
import portsRateDiffers from './ports/rate-differs/rule.js';
import portsUsedTwice from './ports/used-twice/rule.js';
import portsVlanDiffers from './ports/vlan-differs/rule.js';
import receiversChoosesNothing from './receivers/chooses-nothing/rule.js';
import receiversFormatDiffers from './receivers/format-differs/rule.js';
import receiversGroupDiffers from './receivers/group-differs/rule.js';
import receiversNobodySends from './receivers/nobody-sends/rule.js';
import receiversPayloadTypeDiffers from './receivers/payload-type-differs/rule.js';
import receiversPortDiffers from './receivers/port-differs/rule.js';
import receiversSentElsewhere from './receivers/sent-elsewhere/rule.js';
import redundancyCommonQuerier from './redundancy/common-querier/rule.js';
import redundancyLegsShare from './redundancy/legs-share/rule.js';
import redundancyLegsShareRouter from './redundancy/legs-share-router/rule.js';
import redundancyOneLegOnly from './redundancy/one-leg-only/rule.js';
import redundancyOneLegReceived from './redundancy/one-leg-received/rule.js';
import redundancySinglePoint from './redundancy/single-point/rule.js';
import routingDesignatedRouterAstray from './routing/designated-router-astray/rule.js';
import routingNoWayBack from './routing/no-way-back/rule.js';
import routingOneEnded from './routing/one-ended/rule.js';
import routingRoutersApart from './routing/routers-apart/rule.js';
import sourcesLegMap from './sources/leg-map/rule.js';
import sourcesNotFiltered from './sources/not-filtered/rule.js';
import sourcesNotTheSender from './sources/not-the-sender/rule.js';
import sourcesNotUnicast from './sources/not-unicast/rule.js';
import sourcesSsmReserved from './sources/ssm-reserved/rule.js';
import sourcesSsmWithoutSource from './sources/ssm-without-source/rule.js';
import streamsDescriptionDiffers from './streams/description-differs/rule.js';
import streamsLegsDiffer from './streams/legs-differ/rule.js';
import streamsNoGateway from './streams/no-gateway/rule.js';
import streamsOddPort from './streams/odd-port/rule.js';
import streamsPayloadType from './streams/payload-type/rule.js';
import streamsSilentReceiver from './streams/silent-receiver/rule.js';
import streamsTtlTooSmall from './streams/ttl-too-small/rule.js';
import streamsTwoToOnePort from './streams/two-to-one-port/rule.js';
import streamsUnicastToNobody from './streams/unicast-to-nobody/rule.js';
import subnetsDhcpOutside from './subnets/dhcp-outside/rule.js';
import subnetsDhcpRangesOverlap from './subnets/dhcp-ranges-overlap/rule.js';
import subnetsGatewayOutside from './subnets/gateway-outside/rule.js';
import subnetsGatewayTaken from './subnets/gateway-taken/rule.js';
import subnetsGatewayUnheld from './subnets/gateway-unheld/rule.js';
import subnetsNearlyFull from './subnets/nearly-full/rule.js';
import subnetsOverlap from './subnets/overlap/rule.js';
import subnetsWrongFamily from './subnets/wrong-family/rule.js';
import timingAgreedLeaderLoses from './timing/agreed-leader-loses/rule.js';
import timingBoundaryClockBlocks from './timing/boundary-clock-blocks/rule.js';
import timingClaimMisleads from './timing/claim-misleads/rule.js';
import timingClockUnawareSwitch from './timing/clock-unaware-switch/rule.js';
import timingDelayMechanismMixed from './timing/delay-mechanism-mixed/rule.js';
import timingDifferentGrandmasters from './timing/different-grandmasters/rule.js';
import timingDomainDiffers from './timing/domain-differs/rule.js';
import timingEndDeviceCouldWin from './timing/end-device-could-win/rule.js';
import timingEqualPriorities from './timing/equal-priorities/rule.js';
import timingFailoverSlow from './timing/failover-slow/rule.js';
import timingFollowerOutranks from './timing/follower-outranks/rule.js';
import timingFollowersOverCapacity from './timing/followers-over-capacity/rule.js';
import timingGrandmasterOutOfReach from './timing/grandmaster-out-of-reach/rule.js';
import timingGroupBlocked from './timing/group-blocked/rule.js';
import timingIdentityShared from './timing/identity-shared/rule.js';
import timingIntervalOutOfProfile from './timing/interval-out-of-profile/rule.js';
import timingIntervalsDiffer from './timing/intervals-differ/rule.js';
import timingLeaderNotAgreed from './timing/leader-not-agreed/rule.js';
import timingNoGrandmaster from './timing/no-grandmaster/rule.js';
import timingOverWan from './timing/over-wan/rule.js';
import timingOwnTime from './timing/own-time/rule.js';
import timingPortsMeet from './timing/ports-meet/rule.js';
import timingReferenceLossIgnored from './timing/reference-loss-ignored/rule.js';
import timingSettingOutOfProfile from './timing/setting-out-of-profile/rule.js';
import timingSingleGrandmaster from './timing/single-grandmaster/rule.js';
import timingTooManySteps from './timing/too-many-steps/rule.js';
import timingTransportMixed from './timing/transport-mixed/rule.js';
import timingUnknownProfile from './timing/unknown-profile/rule.js';
import timingWorseBackup from './timing/worse-backup/rule.js';
import timingWrongGrandmasterWins from './timing/wrong-grandmaster-wins/rule.js';
import vlansBlockedWay from './vlans/blocked-way/rule.js';
import vlansIdOutOfRange from './vlans/id-out-of-range/rule.js';
import vlansIdTwice from './vlans/id-twice/rule.js';
import vlansJoinedIdsDiffer from './vlans/joined-ids-differ/rule.js';
import vlansNoPath from './vlans/no-path/rule.js';
import vlansNotRouted from './vlans/not-routed/rule.js';
import vlansSplitSubnet from './vlans/split-subnet/rule.js';

export const RULES: readonly Rule[] = [
  capacityAggregateUneven,
  capacityEqualWaysOverload,
  capacityGroupTableOverflow,
  capacityLinkOverload,
  capacityLinkOverloadAfterFailure,
  capacityMixedUdpLimits,
  capacityPacketOverMtu,
  capacityPortOverload,
  capacityStreamOverMember,
  capacityWanOverload,
  delayFrameRateFamilies,
  delayLinkOffsetTooShort,
  delayLipSync,
  delayReferenceClocksDiffer,
  delayRoundTrip,
  groupsAssigned,
  groupsDocumentation,
  groupsEthernetAlias,
  groupsFloods,
  groupsForeignGlop,
  groupsForeignUnicastPrefix,
  groupsIpv6Flags,
  groupsIpv6Scope,
  groupsLegMap,
  groupsLegsShareGroup,
  groupsLightingRange,
  groupsLocalControl,
  groupsNotBound,
  groupsNotMulticast,
  groupsOutsideConventions,
  groupsOutsidePractice,
  groupsProtocolAlias,
  groupsReservedBlock,
  groupsScopeTop,
  groupsTwoSenders,
  hostsDuplicateAddress,
  hostsDuplicateMac,
  hostsGatewayDiffers,
  hostsInDhcpRange,
  hostsNetworkOrBroadcast,
  hostsOutsideSubnet,
  hostsPrefixDiffers,
  hostsPublicAddress,
  hostsSpecialPurpose,
  hostsTwoDefaultGateways,
  hostsTwoInOneSubnet,
  hostsUnusableMac,
  hostsWrongFamily,
  hostsWrongVlan,
  igmpFastLeaveSharedPort,
  igmpNoBackupQuerier,
  igmpNoQuerier,
  igmpNoRendezvousPoint,
  igmpNoRouterPort,
  igmpQuerierAddress,
  igmpRendezvousPointRange,
  igmpSettingsDiffer,
  igmpSharedGroupKeyedByGroup,
  igmpSnoopingOff,
  igmpSsmAnyJoin,
  igmpSwitchNotSnooping,
  igmpTimers,
  igmpUnregisteredFlood,
  igmpVersionTooOld,
  igmpVersionUnlikePractice,
  igmpWrongQuerierWins,
  linksAggregateEndsApart,
  linksAggregateMembersDiffer,
  linksCostMethodsDiffer,
  linksLoopWithoutTree,
  linksMtuDiffers,
  linksNativeDiffers,
  linksPortShared,
  linksRateDiffers,
  linksRootByAddress,
  linksSelfLink,
  linksSideBySide,
  linksVlansDiffer,
  planDuplicateName,
  planJoinWithinRig,
  planLeftOut,
  planLookAlikeNames,
  planNotInKind,
  planUnknownReference,
  planUnusedFormat,
  planUnusedKind,
  planUnusedNetwork,
  planUnusedVlan,
  planWaiverExpired,
  planWaiverIdle,
  portsListedTwice,
  portsRateDiffers,
  portsUsedTwice,
  portsVlanDiffers,
  receiversChoosesNothing,
  receiversFormatDiffers,
  receiversGroupDiffers,
  receiversNobodySends,
  receiversPayloadTypeDiffers,
  receiversPortDiffers,
  receiversSentElsewhere,
  redundancyCommonQuerier,
  redundancyLegsShare,
  redundancyLegsShareRouter,
  redundancyOneLegOnly,
  redundancyOneLegReceived,
  redundancySinglePoint,
  routingDesignatedRouterAstray,
  routingNoWayBack,
  routingOneEnded,
  routingRoutersApart,
  sourcesLegMap,
  sourcesNotFiltered,
  sourcesNotTheSender,
  sourcesNotUnicast,
  sourcesSsmReserved,
  sourcesSsmWithoutSource,
  streamsDescriptionDiffers,
  streamsLegsDiffer,
  streamsNoGateway,
  streamsOddPort,
  streamsPayloadType,
  streamsSilentReceiver,
  streamsTtlTooSmall,
  streamsTwoToOnePort,
  streamsUnicastToNobody,
  subnetsDhcpOutside,
  subnetsDhcpRangesOverlap,
  subnetsGatewayOutside,
  subnetsGatewayTaken,
  subnetsGatewayUnheld,
  subnetsNearlyFull,
  subnetsOverlap,
  subnetsWrongFamily,
  timingAgreedLeaderLoses,
  timingBoundaryClockBlocks,
  timingClaimMisleads,
  timingClockUnawareSwitch,
  timingDelayMechanismMixed,
  timingDifferentGrandmasters,
  timingDomainDiffers,
  timingEndDeviceCouldWin,
  timingEqualPriorities,
  timingFailoverSlow,
  timingFollowerOutranks,
  timingFollowersOverCapacity,
  timingGrandmasterOutOfReach,
  timingGroupBlocked,
  timingIdentityShared,
  timingIntervalOutOfProfile,
  timingIntervalsDiffer,
  timingLeaderNotAgreed,
  timingNoGrandmaster,
  timingOverWan,
  timingOwnTime,
  timingPortsMeet,
  timingReferenceLossIgnored,
  timingSettingOutOfProfile,
  timingSingleGrandmaster,
  timingTooManySteps,
  timingTransportMixed,
  timingUnknownProfile,
  timingWorseBackup,
  timingWrongGrandmasterWins,
  vlansBlockedWay,
  vlansIdOutOfRange,
  vlansIdTwice,
  vlansJoinedIdsDiffer,
  vlansNoPath,
  vlansNotRouted,
  vlansSplitSubnet,
];
