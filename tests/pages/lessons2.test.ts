import { testLessons } from "./everyLesson.ts";

testLessons(1, 2);
