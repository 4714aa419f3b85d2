// Package say turns the program's nouns into words: the sentences that more than one surface
// says, screens, plain mode, paper and pages. Pure functions, one file a topic; nothing here
// knows a colour or a width. What comes from outside (titles, names) is returned as it is:
// whoever shows it cleans it.
package say
