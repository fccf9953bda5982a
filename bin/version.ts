/** Set when the command is built; see `build` in package.json. */
declare const LASTROTATION_VERSION: string | undefined;

export const version = typeof LASTROTATION_VERSION === 'string' ? LASTROTATION_VERSION : 'unbuilt';
