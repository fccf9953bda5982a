/** A page that follows its own file opens it in a frame of no size, and asks it which version it is. */

/** In the fragment of a page that is only looked at: the version that is known. */
export const LOOK = '#known=';

/** What a page that is looked at tells: its text, where it is another than the one that is known. */
export interface Told {
  readonly html: string;
}

/** Of a page that is only looked at, the version that is known; else null. */
export function knownToParent(): string | null {
  if (window.parent === window || !location.hash.startsWith(LOOK)) return null;
  return decodeURIComponent(location.hash.slice(LOOK.length));
}
