/** The page of a plan. */
export const PAGE_FILE_NAME = "plan.html";
