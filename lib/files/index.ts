/**
 * The second door, `lastrotation/files`: the only rooms that touch a disk. In the examples the files of
 * docs/examples lie in the present folder.
 */
export { readTemplatesFile, writeCaptionsFile } from './captions-file.js';
export { follow } from './follow.js';
export { readHistoryFile, writeRangesFile } from './history-file.js';
export { type LiveBoard, openBoard, watchLog } from './live-log.js';
export { logPathOf, type MeetFiles, openMeet, readMeetFiles, soundMeet } from './meet-file.js';
export { createMeetFile } from './new-file.js';
export { type RecordedBetween, record, recordBetween } from './score-log.js';
