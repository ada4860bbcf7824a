ALTER TABLE "machine_months" ADD COLUMN "running_s" double precision;--> statement-breakpoint
ALTER TABLE "machine_months" ADD COLUMN "electric_j" double precision;--> statement-breakpoint
ALTER TABLE "machine_months" ADD COLUMN "idle_j" double precision;--> statement-breakpoint
ALTER TABLE "machine_months" ADD COLUMN "waste_j" double precision;--> statement-breakpoint
ALTER TABLE "machine_months" ADD COLUMN "cost" double precision;--> statement-breakpoint
ALTER TABLE "machine_months" ADD COLUMN "cycles" double precision;--> statement-breakpoint
UPDATE "machine_months" m SET "running_s" = s.running_s, "electric_j" = s.electric_j, "idle_j" = s.idle_j, "waste_j" = s.waste_j, "cost" = s.cost, "cycles" = s.cycles
FROM (
	SELECT machine_id, month, sum(running_s) running_s, sum(electric_j) electric_j, sum(idle_j) idle_j, sum(waste_j) waste_j, sum(cost) cost, sum(cycles) cycles
	FROM "month_digests" GROUP BY machine_id, month
) s
WHERE m.machine_id = s.machine_id AND m.month = s.month;--> statement-breakpoint
CREATE INDEX "machine_months_trend" ON "machine_months" USING btree ("site_id","month","machine_id","electric_j","waste_j");