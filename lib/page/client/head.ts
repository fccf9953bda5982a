/** Runs before the page is there: one that is only looked at, and is known, is read no further. */
import { knownToParent } from './look.js';

if (knownToParent() === document.documentElement.dataset.version) window.stop();
