/** Campaign folders in zip files, and files of either kind. Loaded when one comes. */
export { readCampaignFile } from "./campaign-file.ts";
export { readZippedFolder } from "./read-zipped-folder.ts";
export { writeZippedFolder } from "./write-zipped-folder.ts";
