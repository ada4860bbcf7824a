CREATE TABLE "month_digests" (
	"machine_id" text NOT NULL,
	"log_id" text NOT NULL,
	"site_id" text NOT NULL,
	"month" text NOT NULL,
	"running_s" double precision NOT NULL,
	"electric_j" double precision NOT NULL,
	"idle_j" double precision NOT NULL,
	"waste_j" double precision NOT NULL,
	"cost" double precision NOT NULL,
	"cycles" double precision NOT NULL,
	CONSTRAINT "month_digests_machine_id_log_id_month_pk" PRIMARY KEY("machine_id","log_id","month")
);
--> statement-breakpoint
ALTER TABLE "month_digests" ADD CONSTRAINT "month_digests_machine_id_log_id_logs_machine_id_id_fk" FOREIGN KEY ("machine_id","log_id") REFERENCES "public"."logs"("machine_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "month_digests_by_month" ON "month_digests" USING btree ("site_id","month","machine_id");