/** Names of all files of the hand-over, apart from what makes them: that is loaded when it is needed. */
export const HAND_OVER_FILE_NAMES = [
  "guide.txt",
  "materials.csv",
  "bill.csv",
  "pegs.csv",
  "reels.csv",
  "reel-sizes.csv",
  "controls.csv",
  "ties.csv",
  "offsets.csv",
  "points.csv",
  "points.txt",
  "pegs.gpx",
] as const;
