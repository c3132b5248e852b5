/** What happens after one loss, moment by moment, until nothing changes any more? */
export { type Losable, losables } from './losables.js';
export type { Happening, Hit, Lost, Moment, Unfollowed, QuerierMoment, Timeline, Unsaid, When } from './moments.js';
export { buildReturn, buildTimeline, type TimelineModel } from './timeline.js';
