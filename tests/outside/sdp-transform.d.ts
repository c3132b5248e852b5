/** The part of the library the tests compare with; it comes without types of its own. */
declare module 'sdp-transform' {
  export interface Connection {
    readonly version: number;
    readonly ip: string;
  }

  export interface SourceFilter {
    readonly filterMode: string;
    readonly destAddress: string;
    readonly srcList: string;
  }

  export interface Section {
    readonly name?: string;
    readonly connection?: Connection;
    readonly sourceFilter?: SourceFilter;
    readonly groups?: readonly { readonly type: string; readonly mids: string }[];
    readonly mid?: string | number;
    readonly tsRefClocks?: readonly object[];
  }

  export interface Media extends Section {
    readonly type: string;
    readonly port: number;
    readonly protocol: string;
    readonly payloads?: string | number;
    readonly rtp: readonly { readonly payload: number; readonly codec: string; readonly rate?: number }[];
  }

  export interface Session extends Section {
    readonly media: readonly Media[];
  }

  export function parse(text: string): Session;
}
