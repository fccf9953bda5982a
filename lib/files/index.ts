/**
 * The second door, `lastrotation/files`: the only rooms that touch a disk. In the examples the files of
 * docs/examples lie in the present folder.
 * @module lastrotation/files
 */

export { sha256OfFile } from './fingerprint.js';
export { follow } from './follow.js';
export {
  type FileNews,
  type Followed,
  type Following,
  type FollowOptions,
  fileNews,
  followMeet,
  type SoundFiles,
} from './followed.js';
export { readHistoryFile, readRangesFile, writeRangesFile } from './history-file.js';
export { type KeptFile, keepFile } from './kept-file.js';
export { type LiveBoard, openBoard, watchLog } from './live-log.js';
export { type MadeOptions, readTemplatesFile, writeMadeFile } from './made-file.js';
export { logPathOf, type MeetFiles, openMeet, readMeetFiles, soundMeet } from './meet-file.js';
export { createMeetFile } from './new-file.js';
export {
  type RecordedBetween,
  type RecordInLogOptions,
  record,
  recordBetween,
} from './score-log.js';
