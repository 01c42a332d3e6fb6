# The project's own compiled rates under deSolve's lsoda, for peers.py: prints the seconds of the processor and the calls,
# and writes the state of every hour, before the meal, as doubles.
# usage: Rscript desolve.R LIBRARY LOOP DAILY DAYS RTOL MEAL_KG OUT

library(deSolve)
arguments <- commandArgs(trailingOnly = TRUE)
days <- as.integer(arguments[4])
rtol <- as.numeric(arguments[5])
meal <- as.numeric(arguments[6])
library_name <- sub("[.]so$", "", basename(arguments[1]))
invisible(dyn.load(arguments[1]))
opened <- .C("leat_desolve_open", arguments[2], arguments[3], days, size = 0L)
if (opened$size == 0) stop("the loop or the weather could not be read")
n <- opened$size
start <- .C("leat_desolve_start", y = numeric(n), nominal = numeric(n), outside = numeric(n))
y <- start$y
atol <- ifelse(start$outside == 0, 0.01 * rtol * start$nominal, 1e30)

hours <- 24L * days
out <- matrix(0, hours, n)
calls <- 0
last <- 0L
stops <- c(seq(6L, hours - 1L, by = 12L), hours)
clock <- proc.time()
for (stop in stops) {
  s <- lsoda(y, 3600 * (last:stop), "leat_desolve_rates", parms = NULL, dllname = library_name, initfunc = NULL,
             rtol = rtol, atol = atol, maxsteps = 1e6)
  calls <- calls + attr(s, "istate")[3]
  out[(last + 1L):stop, ] <- s[-1, -1]
  y <- .C("leat_desolve_feed", y = as.numeric(s[nrow(s), -1]), meal)$y
  last <- stop
}
spent <- proc.time() - clock
cat(spent[["user.self"]] + spent[["sys.self"]], calls, "\n")
con <- file(arguments[7], "wb")
writeBin(as.numeric(t(out)), con)
close(con)
